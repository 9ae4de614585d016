"""One cut in the picture of a piece: its outline, where its top is, and whose it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.cuts import Edge, Hand, Placement, Side
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from projector.light.letters import text_width
from projector.papers.drawing import INK, LEFT, RIGHT, SELVEDGE, WHOLE, Anchor, Path, Shape, Words, rectangle
from projector.papers.piece_shapes import Scale, Tier, chevron, moved_along, seen_on_print
from projector.scene.lettering import wrapped

FILL = {Hand.LEFT: LEFT, Hand.RIGHT: RIGHT, Hand.WHOLE: WHOLE}
_TEXT_IN = 0.12
_LEAST_IN = 0.075
_TOP_IN = 0.15
_SMALL_IN = 0.095
_GAP_IN = 0.09
_EDGE_IN = 0.14
_CHEVRON_IN = 0.12
_MOST_LINES = 5
_FRAME_IN = 0.075
_DASH = (0.12, 0.05)
_BEYOND_IN = 0.055
CROSSCUT_KEY = "lines that stand out beyond both selvedges: cut off there first, then slit"

Box = tuple[float, float, float, float]


def cut_shapes(plan: Plan, placed: Placement, number: int, scale: Scale, *, lettered: bool) -> list[Shape]:
    """The outline of a cut with a frame in the colour of its hand, its seams and trims, or (``lettered``) all that is
    written on it; each letter line stands on a clear plate.

    ``number`` is its place in the order of cutting. Where its name does not fit whole, the number alone stands there.
    """
    fill, whole, scale = FILL[placed.cut.hand], scale, _within(placed, scale)
    box = (scale.x(placed.start), scale.upper, scale.x(placed.end), scale.lower)
    if not lettered:
        return [*_trimmed(placed, whole), *_outline(box, fill), *_seams(placed, whole)]
    lines, name, _ = _letters(plan, placed, number, scale)
    named = [line for line in lines if line in name]
    shapes: list[Shape] = [_plate((line,), fill) for line in lines if line not in name]
    shapes += [_plate(named, fill)] if named else []
    return [*shapes, *lines, *_chevrons(placed, scale)]


def crosscut_shapes(plan: Plan, tier: Tier, scale: Scale) -> list[Shape]:
    """Where a length that several cuts share is cut off first: lines from selvedge to selvedge that stand out beyond
    both."""
    shared = (placed for placed in tier.placements if len(plan.shared_length(placed)) > 1)
    places = dict.fromkeys(at for placed in shared for at in placed.crosscuts if _in_tier(at, scale))
    ends = scale.upper - _BEYOND_IN, scale.lower + _BEYOND_IN
    return [shape for at in places for shape in seen_on_print(Path(tuple((scale.x(at), y) for y in ends), INK, 0.034))]


def _in_tier(at: Fraction, scale: Scale) -> bool:
    return scale.span.start <= at <= scale.span.end


def key_words(plan: Plan, tier: Tier, scale: Scale) -> list[str]:
    """A line for each cut of a tier that bears its number alone: whose it is, how it lies and how long it is."""
    return [
        f"{number}. {placed.cut.name}: {placed.cut.way}, {show_cut(placed.cut.length, plan.job.unit)}"
        for number, placed in zip(tier.numbers, tier.placements, strict=True)
        if not _letters(plan, placed, number, _within(placed, scale))[2]
    ]


def _within(placed: Placement, scale: Scale) -> Scale:
    """The scale for a cut alone: its far side is up, its near side down."""
    near, far = placed.cut.across
    return replace(scale, upper=scale.y(far), cloth_width=far - near)


def _letters(plan: Plan, placed: Placement, number: int, scale: Scale) -> tuple[list[Words], list[Words], bool]:
    """The lines written on a cut, those of them that name it, and whether they name it whole."""
    room = (scale.x(placed.start) + 0.03, scale.upper + 0.03, scale.x(placed.end) - 0.03, scale.lower - 0.03)
    ends, sides, name = _ends(placed, scale), _sides(placed, scale), _name(plan, placed, number, scale)
    lines = _apart([*ends[:1], *name, *ends[1:], *sides], room)
    if name and all(line in lines for line in name):
        return lines, name, True
    name = _number(placed, number, scale)
    return _apart([*name, *ends, *sides], room), name, False


def _trimmed(placed: Placement, scale: Scale) -> Iterator[Shape]:
    """What of the print is cut away at a side before it is sewn, as pale as a selvedge."""
    for edge, side in _sewn(placed):
        if side.trim:
            low, high = sorted((scale.y(placed.at(edge)), scale.y(placed.at(edge, side.trim))))
            yield Path(rectangle(scale.x(placed.start), low, scale.x(placed.end), high), fill=SELVEDGE, closed=True)


def _seams(placed: Placement, scale: Scale) -> Iterator[Shape]:
    """The lines at which a cut is joined to the next of its panel."""
    for edge, side in _sewn(placed):
        if side.joined:
            y = scale.y(placed.at(edge, side.line))
            yield from seen_on_print(
                Path(((scale.x(placed.start), y), (scale.x(placed.end), y)), INK, 0.016, dash=_DASH)
            )


def _sewn(placed: Placement) -> Iterator[tuple[Edge, Side]]:
    """The sides of a cut that lie along the piece."""
    for edge in (Edge.NEAR, Edge.FAR):
        side = placed.cut.side_at(edge)
        if side is not None:
            yield edge, side


def _outline(box: Box, fill: str) -> list[Shape]:
    """A dark line about a cut and inside it a pale frame, as wide as there is room for."""
    left, upper, right, lower = box
    wide = min(_FRAME_IN, (right - left) / 5, (lower - upper) / 5)
    inset = rectangle(left + wide / 2, upper + wide / 2, right - wide / 2, lower - wide / 2)
    return [
        Path(inset, fill, wide, closed=True),
        Path(rectangle(left, upper, right, lower), INK, 0.028, closed=True),
    ]


def _inside(edge: Edge, placed: Placement, scale: Scale, off: float) -> tuple[float, float]:
    """The place so far inside an edge of a cut, drawing inches, in the middle of what is shown of it."""
    if edge.is_end:
        return scale.x(placed.at(edge)) - edge.sense * off, (scale.upper + scale.lower) / 2
    y = scale.upper + off if edge is Edge.FAR else scale.lower - off
    return (scale.x(placed.start) + scale.x(placed.end)) / 2, y


def _is_shown(edge: Edge, placed: Placement, scale: Scale) -> bool:
    return not edge.is_end or _in_tier(placed.at(edge), scale)


def _ends(placed: Placement, scale: Scale) -> list[Words]:
    """TOP along the top edge and foot along the foot edge, for the edges that this tier shows."""
    found = []
    for text, edge, height in (("TOP", placed.cut.top_edge, _TOP_IN), ("foot", placed.cut.foot_edge, _SMALL_IN)):
        if _is_shown(edge, placed, scale):
            at = _inside(edge, placed, scale, _EDGE_IN + height / 2)
            found.append(Words(text, at, height, INK, Anchor.MIDDLE, upwards=edge.is_end))
    return found


def _name(plan: Plan, placed: Placement, number: int, scale: Scale) -> list[Words]:
    """Number and window, hand, way and length, in the middle of what is shown of the cut; upwards in a short cut.

    Where that does not fit as it should, room is taken from the words at the sides; nothing where it does not fit then.
    """
    cut = placed.cut
    along = scale.x(placed.end) - scale.x(placed.start) - 2 * (_EDGE_IN + _TOP_IN + 0.15)
    texts = [f"{number}. {cut.window}", *filter(None, (cut.which,))]
    texts.append(f"{cut.way}, {show_cut(cut.length, plan.job.unit)}")
    for side in (_SMALL_IN + 0.25, 0.06):
        across = scale.lower - scale.upper - 2 * side
        for height in (_TEXT_IN, 0.1, 0.085, _LEAST_IN):
            for upwards, room, deep in ((False, along, across), (True, across, along)):
                lines = [*wrapped(texts[0], height, room), *texts[1:]]
                widest = max(text_width(line) for line in lines) * height
                if widest <= room and len(lines) * (height + _GAP_IN) <= deep and len(lines) <= _MOST_LINES:
                    return _stacked(lines, height, placed, scale, upwards)
    return []


def _number(placed: Placement, number: int, scale: Scale) -> list[Words]:
    """The number alone, as large as there is room for."""
    wide, high = scale.x(placed.end) - scale.x(placed.start) - 0.08, scale.lower - scale.upper - 0.08
    for height in (0.16, _TEXT_IN, 0.1, 0.085):
        for upwards, room, deep in ((False, wide, high), (True, high, wide)):
            if text_width(str(number)) * height <= room and height * 1.4 <= deep:
                return _stacked([str(number)], height, placed, scale, upwards)
    return _stacked([str(number)], _LEAST_IN, placed, scale, upwards=False)


def _stacked(lines: list[str], height: float, placed: Placement, scale: Scale, upwards: bool) -> list[Words]:
    """Lines beside each other about the middle of what is shown of a cut."""
    middle = ((scale.x(placed.start) + scale.x(placed.end)) / 2, (scale.upper + scale.lower) / 2)
    found = []
    for number, line in enumerate(lines):
        off = (number - (len(lines) - 1) / 2) * (height + _GAP_IN)
        at = (middle[0] + off, middle[1]) if upwards else (middle[0], middle[1] + off)
        found.append(Words(line, at, height, INK, Anchor.MIDDLE, upwards))
    return found


def _apart(lines: list[Words], room: Box) -> list[Words]:
    """The lines, in order of weight, that stay inside the room and clear of those before them."""
    kept: list[Words] = []
    for line in lines:
        left, upper, right, lower = line.box
        if left < room[0] or upper < room[1] or right > room[2] or lower > room[3]:
            continue
        boxes = [other.box for other in kept]
        if not any(left < b[2] and b[0] < right and upper < b[3] and b[1] < lower for b in boxes):
            kept.append(line)
    return kept


def _sides(placed: Placement, scale: Scale) -> list[Words]:
    """Which side is the leading edge, or joins the cut nearer to it, where the tier shows it."""
    cut, edge = placed.cut, placed.cut.leading_edge
    if (cut.hand is Hand.WHOLE and cut.of == 1) or not _is_shown(edge, placed, scale):
        return []
    text = "leading edge" if cut.number == 1 else f"joins {cut.number - 1}"
    off = 0.1 + _SMALL_IN / 2 if edge.is_end else 0.24
    room = scale.lower - scale.upper - 0.1 if edge.is_end else scale.x(placed.end) - scale.x(placed.start) - 0.9
    at = _inside(edge, placed, scale, off)
    words = Words(text, at, _SMALL_IN, INK, Anchor.MIDDLE, upwards=edge.is_end)
    return [words] if words.length < room else []


def _chevrons(placed: Placement, scale: Scale) -> list[Shape]:
    """Two chevrons that point to the top edge, at both sides of the word TOP or at the shown end nearest to it."""
    edge, off = placed.cut.top_edge, text_width("TOP") * _TOP_IN / 2 + 0.22
    low, high = (scale.upper, scale.lower) if edge.is_end else (scale.x(placed.start), scale.x(placed.end))
    if abs(scale.x(placed.end) - scale.x(placed.start)) < 0.5:
        return []
    tip = _inside(edge, placed, scale, _EDGE_IN)
    return [
        shape
        for move in (-off, off)
        if low < (low + high) / 2 + move - 0.2 and (low + high) / 2 + move + 0.2 < high
        for shape in seen_on_print(
            Path(chevron(moved_along(tip, edge, move), edge, _CHEVRON_IN, _CHEVRON_IN), INK, 0.045)
        )
    ]


def _plate(words: Sequence[Words], fill: str) -> Path:
    """A clear ground behind lines that stand together."""
    left, upper, right, lower = zip(*(line.box for line in words), strict=True)
    corners = rectangle(min(left) - 0.04, min(upper) - 0.05, max(right) + 0.04, max(lower) + 0.03)
    return Path(corners, fill=fill, closed=True)
