"""Labels of a cut of cloth run sideways: TOP at the selvedge it lies at, its foot, its two edges at the cut lines."""

from __future__ import annotations

from jobs.model.cuts import Hand
from projector.scene.boxes import Box
from projector.scene.labels import main_blocks, plain_blocks
from projector.scene.lettering import Fitted, Room, fit
from projector.scene.lit_stop import LitStop
from projector.scene.sizes import CLEAR_IN, FOOT_IN, LABEL_IN

_FROM_EDGE_IN = 2.0


def sideways_labels(lit: LitStop, flaws: tuple[Box, ...]) -> tuple[Fitted, ...]:
    """All labels of the cut, clear of each other, of its edges and of flaws; what has no room is left out."""
    region = lit.cut.grown(-CLEAR_IN)
    edges = _edge_labels(lit, Room(region, flaws))
    room = Room(region, (*flaws, *(label.box for label in edges)))
    end = lit.rising if lit.shows_top else -lit.rising if lit.shows_foot else 0
    main = fit(main_blocks(lit, region), room, 0, start=_FROM_EDGE_IN, rising=end)
    if main is None:
        return edges
    if not (lit.shows_top and lit.shows_foot):
        return (*edges, main)
    foot = fit(plain_blocks("FOOT", FOOT_IN), room.with_taken(main.box), 0, rising=-lit.rising)
    return (*edges, main) if foot is None else (*edges, main, foot)


def _edge_labels(lit: LitStop, room: Room) -> tuple[Fitted, ...]:
    """What each lit end of the cut is when the panel hangs, beside its cut line."""
    found: list[Fitted] = []
    edges = ((lit.shows_leading, lit.leading_x, lit.return_x), (lit.shows_return, lit.return_x, lit.leading_x))
    for (is_lit, x, other), words in zip(edges, edge_words(lit), strict=True):
        if not is_lit:
            continue
        blocks = (block for word in words for block in plain_blocks(word, LABEL_IN))
        placed = fit(blocks, room.with_taken(*(label.box for label in found)), -1 if x < other else 1)
        found += [] if placed is None else [placed]
    return tuple(found)


def edge_words(lit: LitStop) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Words for the leading and the return edge, longest first; those of a whole panel are its sides as it hangs.

    A whole panel counts like a left one: its right side is the leading edge.
    """
    if lit.placement.cut.hand is Hand.WHOLE:
        return ("right side",), ("left side",)
    return ("leading edge", "leading"), ("return edge", "return")
