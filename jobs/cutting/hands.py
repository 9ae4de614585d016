"""A pair that looks the other way: its two panels change places, and nothing of what is cut changes.

A panel that hung at the left hangs at the right as it lies in the cloth. The edge that led returns now, so that the cut
that led comes last; and the panel that was turned is the one beside it.
"""

from __future__ import annotations

from dataclasses import replace

from jobs.model.cuts import Cut, Hand, Placement

OTHER = {Hand.LEFT: Hand.RIGHT, Hand.RIGHT: Hand.LEFT}


def cut_name(window: str, hand: Hand, number: int, of: int) -> str:
    """The name of a cut: the short name of its ``window``, its hand and, of several in a panel, its number."""
    return f"{window}-{hand}" if of == 1 else f"{window}-{hand}-{number}"


def on_other_hand(cut: Cut) -> Cut:
    """The same piece of cloth in the other panel of its pair; of a panel without a hand, itself. Twice is once none."""
    hand = OTHER.get(cut.hand)
    if hand is None:
        return cut
    window = cut.id.removesuffix(cut_name("", cut.hand, cut.number, cut.of))
    number = cut.of + 1 - cut.number
    return replace(
        cut,
        id=cut_name(window, hand, number, cut.of),
        hand=hand,
        panel=f"{cut.window}, {hand}",
        number=number,
        leading_edge=cut.return_edge,
        leading_side=cut.return_side,
        return_side=cut.leading_side,
    )


def placed_on_other_hand(placed: Placement) -> Placement:
    """The same with its place."""
    return replace(placed, cut=on_other_hand(placed.cut))
