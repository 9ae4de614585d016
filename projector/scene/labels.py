"""Words on the stop's cut: TOP, whose cut it is, its foot, its sides, and what lines and flaws are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from jobs.model.cuts import Cut, Edge, Hand
from projector.scene.boxes import Box, box_of_stroke
from projector.scene.cut_lines import hems
from projector.scene.lettering import (
    MIDDLE,
    Block,
    Direction,
    Fitted,
    Line,
    Room,
    fit,
    shortened,
    text_box,
    text_width,
    wrapped,
)
from projector.scene.lit_stop import LitStop
from projector.scene.marks import (
    CLEAR_IN,
    FOOT_IN,
    GAP_IN,
    LABEL_IN,
    LEAST_LABEL_IN,
    MATCH_HALF_IN,
    NAME_IN,
    TOP_IN,
    ZIGZAG_DEPTH_IN,
    Kind,
    Point,
    Stroke,
    Text,
)
from projector.scene.print_marks import motif_boxes, seam_line, sides_at_selvedges

_SCALES = (1.0, 0.85, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.15)
_FROM_END_IN, _FROM_SELVEDGE_IN = 4.0, 2.0
"""How far TOP stands inside its edge."""
_SLACK_IN = 0.01


def name_of(cut: Cut) -> str:
    """Whose cut it is, as on the tag: window, hand, number."""
    return cut.name


def name_lines(cut: Cut, height: float, width: float) -> tuple[str, ...]:
    """The name on one line, or the window's name wrapped and hand and number together under it."""
    if text_width(name_of(cut), height) <= width:
        return (name_of(cut),)
    return (*wrapped(cut.window, height, width), *filter(None, (cut.which,)))


def cut_labels(lit: LitStop, flaws: tuple[Box, ...]) -> tuple[Fitted, ...]:
    """All labels of the cut, clear of each other, of its edges, of the match marks and of flaws.

    A label that has no room at its least size is left out; TOP and the name are placed first of all in the middle.
    """
    cut, region = lit.placement.cut, lit.cut.grown(-CLEAR_IN)
    sides = side_labels(lit, Room(region, flaws))
    inner = Box(region.left, max(region.near, _inset(lit, Edge.NEAR)), region.right, region.far)
    inner = replace(inner, far=min(region.far, lit.width - _inset(lit, Edge.FAR)))
    if inner.depth <= 0:
        inner = region
    room = Room(inner, (*flaws, *(side.box for side in sides)), motif_boxes(lit))
    lit_ends = [edge for edge in (cut.top_edge, cut.foot_edge) if edge in lit.shown]
    start = _FROM_END_IN if cut.top_edge.is_end else _FROM_SELVEDGE_IN
    main = fit(main_blocks(lit, inner), room, direction(lit_ends[0]) if lit_ends else MIDDLE, start)
    if main is None:
        return sides
    foot = fit(plain_blocks("FOOT", FOOT_IN), room.with_taken(main.box), direction(cut.foot_edge))
    return (*sides, main) if foot is None or len(lit_ends) < 2 else (*sides, main, foot)


def main_blocks(lit: LitStop, region: Box) -> Iterator[Block]:
    """The block in the middle of the cut, from its best size down to its least.

    TOP with a chevron at each side pointing to the top edge where that edge is lit; elsewhere the word FOOT and the
    way to the top, so that no other edge can be taken for the top.
    """
    cut, pointing = lit.placement.cut, direction(lit.placement.cut.top_edge)
    for scale in _SCALES:
        head: tuple[Line, ...]
        if cut.top_edge in lit.shown:
            head = (Line(Kind.TOP, "TOP", max(TOP_IN * scale, LEAST_LABEL_IN), pointing),)
        else:
            way = Line(Kind.LETTER, "to the top", max(NAME_IN * scale, LEAST_LABEL_IN), pointing)
            foot = Line(Kind.LETTER, "FOOT", max(FOOT_IN * scale, LEAST_LABEL_IN))
            head = (foot, way) if cut.foot_edge in lit.shown else (way,)
        height = max(NAME_IN * scale, LEAST_LABEL_IN)
        lines = name_lines(cut, height, region.width)
        if len(lines) <= 4:
            yield Block((*head, *(Line(Kind.LETTER, line, height) for line in lines)))
    yield Block((*head, *_short_name(cut, region.width)))
    yield Block(head)


def _short_name(cut: Cut, width: float) -> tuple[Line, ...]:
    parts = (cut.window, *cut.which.split(", "))
    lines = (shortened(part, LEAST_LABEL_IN, width) for part in parts)
    return tuple(Line(Kind.LETTER, line, LEAST_LABEL_IN) for line in lines if line)


def side_labels(lit: LitStop, room: Room) -> tuple[Fitted, ...]:
    """A label inside each side of the panel that is lit: what that side is when the panel hangs."""
    found: list[Fitted] = []
    cut = lit.placement.cut
    for edge in (edge for edge in Edge if cut.side_at(edge) is not None):
        blocks = (block for word in side_words(cut, edge) for block in plain_blocks(word, LABEL_IN))
        free = room.with_taken(*(label.box for label in found))
        label = None
        if not edge.is_end:
            label = next(filter(None, (_along_side(lit, edge, block, free) for block in blocks)), None)
        elif edge in lit.shown:
            label = fit(blocks, free, direction(edge))
        found += [label] if label is not None else []
    return tuple(found)


def _along_side(lit: LitStop, edge: Edge, block: Block, room: Room) -> Fitted | None:
    """A label along a selvedge, as near it as it can stand inside the match marks without standing on a fold."""
    low = room.region.near if edge is Edge.NEAR else lit.width - room.region.far
    near = max(_inset(lit, edge), low)
    for fold in sorted(_folds_from(lit, edge)):
        if near - CLEAR_IN < fold < near + block.depth + CLEAR_IN:
            near = fold + CLEAR_IN
    far = near + block.depth + _SLACK_IN
    band = (near, far) if edge is Edge.NEAR else (lit.width - far, lit.width - near)
    placed = fit((block,), Room(Box(room.region.left, band[0], room.region.right, band[1]), room.taken))
    return placed if placed is not None and room.region.holds(placed.box) else None


def _folds_from(lit: LitStop, selvedge: Edge) -> list[float]:
    """How far the folds of the sides lie from a selvedge of the cloth."""
    cut = lit.placement.cut
    folded = (edge for edge in sides_at_selvedges(cut) if edge in hems(cut))
    places = (lit.at(edge, cut.fold(edge)) for edge in folded)
    return [y if selvedge is Edge.NEAR else lit.width - y for y in places]


def _inset(lit: LitStop, edge: Edge) -> float:
    """How far labels keep from a selvedge of the cloth, so that they stand inside the match marks of a side there."""
    if edge not in sides_at_selvedges(lit.placement.cut):
        return 0.0
    y = lit.at(edge, seam_line(lit, edge))
    return (y if edge is Edge.NEAR else lit.width - y) + MATCH_HALF_IN + CLEAR_IN


def side_words(cut: Cut, edge: Edge) -> tuple[str, ...]:
    """Words for the leading or the return side of a cut, longest first; a whole panel has a left and a right side."""
    leads = edge is cut.leading_edge
    if cut.hand is Hand.WHOLE and cut.of == 1:
        return ("left side",) if edge is cut.left_edge else ("right side",)
    if leads:
        return ("leading edge", "leading") if cut.number == 1 else (f"joins {cut.number - 1}, leading side", "leading")
    return ("return edge", "return") if cut.number == cut.of else (f"joins {cut.number + 1}, return side", "return")


def direction(edge: Edge) -> Direction:
    """From the middle of a cut to one of its edges, on the table."""
    return (edge.sense, 0) if edge.is_end else (0, edge.sense)


def plain_blocks(text: str, height: float) -> tuple[Block, ...]:
    """A line of letters alone, from its best height down to the least."""
    heights = sorted({max(height * scale, LEAST_LABEL_IN) for scale in _SCALES}, reverse=True)
    return tuple(Block((Line(Kind.LETTER, text, high),)) for high in heights)


WORDS: dict[Kind, str] = {Kind.FOLD: "fold", Kind.STIFFENER: "stiffener", Kind.TRIM: "trim"}
SEAMED: dict[Kind, str] = {**WORDS, Kind.FOLD: "sewn"}
"""Of what is seamed all round, and turned over nowhere."""
SHARES = (0.3, 0.4, 0.2, 0.5, 0.6, 0.7, 0.8, 0.1, 0.9)
"""Where along a line its word is tried, the part nearer the person first."""
MOST_SHARE = 0.5
"""A word takes no more than this share of its line."""
HEIGHTS = (LABEL_IN, LEAST_LABEL_IN)
OFF_FLAW_IN = 0.1
"""Dark between a flaw's outline and its word, besides what is kept clear of every line."""


def line_words(lines: tuple[Stroke, ...], room: Room, words: Mapping[Kind, str] = WORDS) -> tuple[Text, ...]:
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
        word = words[line.kind]
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
