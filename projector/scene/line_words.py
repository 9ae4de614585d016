"""Words on lines that are no cut lines, and on flaws, so that no line has to be guessed at."""

from __future__ import annotations

from projector.scene.boxes import Box
from projector.scene.fitting import Room
from projector.scene.lettering import text_box
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Point, Stroke, Text
from projector.scene.sizes import CLEAR_IN, GAP_IN, LABEL_IN, LEAST_LABEL_IN, ZIGZAG_DEPTH_IN

WORDS: dict[Kind, str] = {Kind.FOLD: "fold", Kind.STIFFENER: "stiffener", Kind.TRIM: "trim"}
SHARES = (0.3, 0.4, 0.2, 0.5, 0.6, 0.7, 0.8, 0.1, 0.9)
"""Where along a line its word is tried, the part nearer the person first."""
MOST_SHARE = 0.5
"""A word takes no more than this share of its line."""
HEIGHTS = (LABEL_IN, LEAST_LABEL_IN)
OFF_FLAW_IN = 0.1
"""Dark between a flaw's outline and its word, besides what is kept clear of every line."""


def line_words(lines: tuple[Stroke, ...], room: Room) -> tuple[Text, ...]:
    """A word in each straight line where there is room, clear of the other lines; the line is to be parted for it."""
    found: list[Text] = []
    for line in lines:
        others = [box_of_stroke(other) for other in lines if other is not line]
        free = room.with_taken(*others, *map(_box, found))
        places = [
            (line.points[0][0] + (line.points[1][0] - line.points[0][0]) * share,
             line.points[0][1] + (line.points[1][1] - line.points[0][1]) * share)
            for share in SHARES
        ]  # fmt: skip
        word = WORDS[line.kind]
        sizes = (height for height in HEIGHTS if _takes(word, line, height) <= MOST_SHARE)
        found += next(filter(None, (_first(word, places, free, height) for height in sizes)), ())
    return tuple(found)


def _takes(word: str, line: Stroke, height: float) -> float:
    """The share of a line that its word takes."""
    box, drawn = text_box(word, (0.0, 0.0), height), box_of_stroke(line)
    length = max(drawn.width, drawn.depth)
    return (box.depth if drawn.width == 0 else box.width) / length if length > 0 else 1.0


def flaw_words(lit: LitStop, gone: tuple[Box, ...], room: Room) -> tuple[Text, ...]:
    """The word flaw and what it is, in or beside each lit flaw; flaws themselves are not taken in ``room``."""
    outlines = [(flaw, box.grown(ZIGZAG_DEPTH_IN)) for flaw, box in lit.flaws() if not _is_gone(box, gone)]
    found: list[Text] = []
    for number, (flaw, outline) in enumerate(outlines):
        others = [other for at, (_, other) in enumerate(outlines) if at != number]
        free = room.with_taken(*others, *map(_box, found))
        texts = ([f"flaw: {flaw.note}"] if flaw.note else []) + ["flaw"]
        tries = ((text, height) for text in texts for height in HEIGHTS)
        found += next(filter(None, (_by(text, outline, free, height) for text, height in tries)), ())
    return tuple(found)


def _by(text: str, outline: Box, room: Room, height: float) -> tuple[Text, ...]:
    """The text beside an outline, or inside it where nothing beside is free."""
    x, y = outline.middle
    inside = text_box(text, (x, y), height)
    away = CLEAR_IN + OFF_FLAW_IN
    off_x = outline.width / 2 + inside.width / 2 + away
    off_y = outline.depth / 2 + inside.depth / 2 + away
    places = [(x, y - off_y), (x, y + off_y), (x + off_x, y), (x - off_x, y)]
    found = _first(text, places, room.with_taken(outline), height)
    fits = outline.grown(-2 * ZIGZAG_DEPTH_IN).holds(inside)
    return found or (_first(text, [(x, y)], room, height) if fits else ())


def _first(text: str, places: list[Point], room: Room, height: float) -> tuple[Text, ...]:
    for at in places:
        if room.is_free(text_box(text, at, height)):
            return (Text(Kind.LETTER, text, at, height),)
    return ()


def _is_gone(box: Box, gone: tuple[Box, ...]) -> bool:
    return any(other.holds(box) for other in gone)


def _box(text: Text) -> Box:
    return text_box(text.text, text.at, text.height).grown(GAP_IN)


def box_of_stroke(stroke: Stroke) -> Box:
    """The box that a stroke's points lie in."""
    xs, ys = zip(*stroke.points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))
