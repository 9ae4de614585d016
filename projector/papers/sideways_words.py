"""What is written at the edges of a cut of cloth run sideways: TOP and foot along it, the leading edge at its end."""

from __future__ import annotations

from jobs.model.cuts import Hand, Placement, Selvedge
from projector.light.letters import text_width
from projector.papers.drawing import INK, Anchor, Path, Shape, Words
from projector.papers.piece_shapes import Scale, seen_on_print

TOP_IN = 0.15
_SMALL_IN = 0.095
_EDGE_IN = 0.14
_CHEVRON_IN = 0.12


def level_ends(placed: Placement, scale: Scale) -> list[Words]:
    """TOP inside the top edge and foot inside the foot edge, to be read as the panel hangs where the top lies far."""
    middle = (scale.x(placed.start) + scale.x(placed.end)) / 2
    found = []
    for text, is_far, height in (("TOP", _top_is_far(placed), TOP_IN), ("foot", not _top_is_far(placed), _SMALL_IN)):
        off = _EDGE_IN + height / 2
        y = scale.upper + off if is_far else scale.lower - off
        found.append(Words(text, (middle, y), height, INK, Anchor.MIDDLE))
    return found


def level_sides(placed: Placement, scale: Scale) -> list[Words]:
    """The leading edge named inside the end of the cut that it is, where the tier shows it."""
    leading = placed.leading
    if placed.cut.hand is Hand.WHOLE or leading is None or not scale.span.start <= leading <= scale.span.end:
        return []
    inward = 1 if leading == placed.start else -1
    at = (scale.x(leading) + inward * (0.1 + _SMALL_IN / 2), (scale.upper + scale.lower) / 2)
    words = Words("leading edge", at, _SMALL_IN, INK, Anchor.MIDDLE, upwards=True)
    return [words] if words.length < scale.lower - scale.upper - 0.1 else []


def level_chevrons(placed: Placement, scale: Scale) -> list[Shape]:
    """Two chevrons beside the word TOP that point to the top edge."""
    left, right = scale.x(placed.start), scale.x(placed.end)
    middle, off = (left + right) / 2, text_width("TOP") * TOP_IN / 2 + 0.22
    up = -1 if _top_is_far(placed) else 1
    tip = (scale.upper if up < 0 else scale.lower) - up * _EDGE_IN
    tail = tip - up * _CHEVRON_IN
    return [
        shape
        for x in (middle - off, middle + off)
        if left < x - 0.2 and x + 0.2 < right
        for shape in seen_on_print(Path(((x - _CHEVRON_IN, tail), (x, tip), (x + _CHEVRON_IN, tail)), INK, 0.045))
    ]


def _top_is_far(placed: Placement) -> bool:
    return placed.cut.top_at is Selvedge.FAR
