"""Labels of the stop's cut: TOP, whose cut it is, its foot, and which side is the leading edge."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.plan import Cut, Hand
from projector.scene.block import Block, Line
from projector.scene.boxes import Box
from projector.scene.fitting import Fitted, Room, fit
from projector.scene.folds import side_folds
from projector.scene.lettering import shortened, text_width, wrapped
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind
from projector.scene.match_marks import seam_lines
from projector.scene.sizes import CLEAR_IN, FOOT_IN, LABEL_IN, LEAST_LABEL_IN, MATCH_HALF_IN, NAME_IN, TOP_IN

_SCALES = (1.0, 0.85, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.15)
_FROM_EDGE_IN = 4.0
_SLACK_IN = 0.01


def name_of(cut: Cut) -> str:
    """Whose cut it is, as on the tag: window, hand, number."""
    return f"{cut.window}, {cut.hand.value}, {cut.number} of {cut.of}"


def name_lines(cut: Cut, height: float, width: float) -> tuple[str, ...]:
    """The name on one line, or the window's name wrapped and hand and number together under it."""
    if text_width(name_of(cut), height) <= width:
        return (name_of(cut),)
    return (*wrapped(cut.window, height, width), f"{cut.hand.value}, {cut.number} of {cut.of}")


def cut_labels(lit: LitStop, flaws: tuple[Box, ...]) -> tuple[Fitted, ...]:
    """All labels of the cut, clear of each other, of its edges, of the match marks and of flaws.

    A label that has no room at its least size is left out; TOP and the name are placed first of all in the middle.
    """
    reach = min(lit.cut.far, lit.light.far)
    whole = Box(lit.cut.left, lit.near, lit.cut.right, reach).grown(-CLEAR_IN)
    sides = side_labels(lit, Room(whole, flaws))
    taken = (*flaws, *(side.box for side in sides))
    near, far = insets(lit)
    inner = Box(whole.left, max(whole.near, near), whole.right, min(whole.far, lit.width - far))
    if inner.depth <= 0:
        inner = whole
    room = Room(inner, taken)
    towards = lit.towards_top if lit.shows_top else -lit.towards_top if lit.shows_foot else 0
    main = fit(main_blocks(lit, inner), room, towards, start=_FROM_EDGE_IN)
    if main is None:
        return sides
    if not (lit.shows_top and lit.shows_foot):
        return (*sides, main)
    foot = fit(plain_blocks("FOOT", FOOT_IN), room.with_taken(main.box), -lit.towards_top)
    return (*sides, main) if foot is None else (*sides, main, foot)


def main_blocks(lit: LitStop, region: Box) -> Iterator[Block]:
    """The block in the middle of the cut, from its best size down to its least.

    TOP with a chevron at each side pointing to the top edge where that edge is lit; elsewhere the word FOOT and the
    way to the top, so that no other edge can be taken for the top.
    """
    pointing = (0, lit.rising) if lit.is_sideways else (lit.towards_top, 0)
    for scale in _SCALES:
        head: tuple[Line, ...]
        if lit.shows_top:
            head = (Line(Kind.TOP, "TOP", max(TOP_IN * scale, LEAST_LABEL_IN), *pointing),)
        else:
            way = Line(Kind.LETTER, "to the top", max(NAME_IN * scale, LEAST_LABEL_IN), *pointing)
            foot = Line(Kind.LETTER, "FOOT", max(FOOT_IN * scale, LEAST_LABEL_IN))
            head = (foot, way) if lit.shows_foot else (way,)
        height = max(NAME_IN * scale, LEAST_LABEL_IN)
        lines = name_lines(lit.placement.cut, height, region.width)
        if len(lines) <= 4:
            yield Block((*head, *(Line(Kind.LETTER, line, height) for line in lines)))
    yield Block((*head, *_short_name(lit.placement.cut, region.width)))
    yield Block(head)


def _short_name(cut: Cut, width: float) -> tuple[Line, ...]:
    parts = (cut.window, cut.hand.value, f"{cut.number} of {cut.of}")
    lines = (shortened(part, LEAST_LABEL_IN, width) for part in parts)
    return tuple(Line(Kind.LETTER, line, LEAST_LABEL_IN) for line in lines if line)


def side_labels(lit: LitStop, room: Room) -> tuple[Fitted, ...]:
    """A label along each selvedge: what that side is when the panel hangs."""
    found: list[Fitted] = []
    for is_near, inset, words in zip((True, False), insets(lit), side_words(lit), strict=True):
        for block in (block for word in words for block in plain_blocks(word, LABEL_IN)):
            low = room.region.near if is_near else lit.width - room.region.far
            band = _band(max(inset, low), block.depth, [y if is_near else lit.width - y for y in side_folds(lit)])
            near, far = band if is_near else (lit.width - band[1], lit.width - band[0])
            strip = Box(room.region.left, near, room.region.right, far)
            placed = fit((block,), Room(strip, (*room.taken, *(f.box for f in found))), 0)
            if placed is not None and room.region.holds(placed.box):
                found.append(placed)
                break
    return tuple(found)


def insets(lit: LitStop) -> tuple[float, float]:
    """How far labels keep from the near and from the far selvedge, so that they stand inside the match marks."""
    near, far = seam_lines(lit)
    return near + MATCH_HALF_IN + CLEAR_IN, lit.width - far + MATCH_HALF_IN + CLEAR_IN


def _band(inset: float, depth: float, folds: list[float]) -> tuple[float, float]:
    """Depths from the selvedge where a label stands: as near it as it can without standing on a fold."""
    near = inset
    for fold in sorted(folds):
        if near - CLEAR_IN < fold < near + depth + CLEAR_IN:
            near = fold + CLEAR_IN
    return near, near + depth + _SLACK_IN


def side_words(lit: LitStop) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Words for the near and for the far side, longest first."""
    cut = lit.placement.cut
    if cut.hand is Hand.WHOLE and cut.of == 1:
        left, right = ("left side",), ("right side",)
        return (left, right) if lit.left_side_is_near else (right, left)
    leading = ("leading edge", "leading") if cut.number == 1 else (f"joins {cut.number - 1}, leading side", "leading")
    returning = (
        ("return edge", "return") if cut.number == cut.of else (f"joins {cut.number + 1}, return side", "return")
    )
    return (leading, returning) if lit.leading_is_near else (returning, leading)


def plain_blocks(text: str, height: float) -> tuple[Block, ...]:
    """A line of letters alone, from its best height down to the least."""
    heights = sorted({max(height * scale, LEAST_LABEL_IN) for scale in _SCALES}, reverse=True)
    return tuple(Block((Line(Kind.LETTER, text, high),)) for high in heights)
