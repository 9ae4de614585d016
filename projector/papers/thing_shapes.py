"""Small things wanted, in the picture of a piece: where each is cut from, and the motif in its middle."""

from __future__ import annotations

from dataclasses import replace

from jobs.model.choices import Motif
from jobs.model.plan import PlacedThing
from projector.light.letters import text_width
from projector.papers.drawing import INK, ROW, THING, Anchor, Path, Shape, Words, rectangle
from projector.papers.piece_shapes import Scale, Tier, seen_on_print
from projector.scene.lettering import shortened

Box = tuple[float, float, float, float]
_TEXT_IN = 0.1
_LEAST_IN = 0.075
_ARM_IN = 0.09
_GAP_IN = 0.05


def thing_shapes(tier: Tier, scale: Scale) -> list[Shape]:
    """An outline with its name for each thing, and a cross where a motif shall lie in its middle."""
    shapes: list[Shape] = []
    for thing in tier.things:
        left, upper, right, lower = box = thing_box(thing, scale)
        shapes += seen_on_print(Path(rectangle(*box), INK, 0.02, closed=True))
        x, y = (left + right) / 2, (upper + lower) / 2
        name, room = _name(thing, box), 0.0
        if thing.motif is Motif.CENTRED:
            arm = min(_ARM_IN, (right - left) / 4, (lower - upper) / 4)
            for line in (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))):
                shapes += seen_on_print(Path(line, ROW, 0.03))
            room = arm + 0.03
        shapes += [] if name is None else _beside(name, (x, y), box, room)
    return shapes


def thing_box(thing: PlacedThing, scale: Scale) -> Box:
    """Left, upper, right and lower side on the sheet."""
    return scale.x(thing.start), scale.y(thing.far), scale.x(thing.end), scale.y(thing.near)


def clear_of_things(shapes: list[Shape], tier: Tier, scale: Scale) -> list[Shape]:
    """The shapes without words, and plates behind words, that a thing would half hide."""
    boxes = [thing_box(thing, scale) for thing in tier.things]

    def hidden(box: Box) -> bool:
        return any(box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in boxes)

    kept: list[Shape] = []
    for shape in shapes:
        if isinstance(shape, Words) and hidden(shape.box):
            if kept and isinstance(kept[-1], Path) and kept[-1].fill is not None:
                kept.pop()
            continue
        kept.append(shape)
    return kept


def _name(thing: PlacedThing, box: Box) -> Words | None:
    """The name and number, upwards in a narrow thing, cut short where it must be; None where not a letter fits."""
    number = "" if thing.count == 1 else f" {thing.number}"
    wide, high = box[2] - box[0] - 2 * _GAP_IN, box[3] - box[1] - 2 * _GAP_IN
    upwards = high > wide
    room, deep = (high, wide) if upwards else (wide, high)
    for height in (_TEXT_IN, _LEAST_IN):
        text = thing.name + number
        if height == _LEAST_IN and text_width(text) * height > room:
            short = shortened(thing.name, height, room - text_width(number) * height)
            text = short + number if short else number.strip()
        words = Words(text, (0.0, 0.0), height, INK, Anchor.MIDDLE, upwards)
        if text and words.length <= room and height <= deep:
            return words
    return None


def _beside(words: Words, middle: tuple[float, float], box: Box, room: float) -> list[Shape]:
    """The words in the middle, or beside the cross there where that leaves them inside the outline."""
    x, y = middle
    off = room + words.height / 2 + 0.02 if room else 0.0
    at = (x - off, y) if words.upwards else (x, y + off)
    inside = at[0] - words.height / 2 > box[0] if words.upwards else at[1] + words.height / 2 < box[3]
    if not inside:
        return []
    moved = replace(words, at=at)
    left, upper, right, lower = moved.box
    plate = Path(rectangle(left - 0.03, upper - 0.03, right + 0.03, lower + 0.02), fill=THING, closed=True)
    return [plate, moved]
