"""Which panels a window has, which edge of a cut is its top, and which selvedge leads.

The piece lies with its first end to the left, the near selvedge towards the person, face up; a panel hangs with its
face to the room and is seen from inside. An upright cut whose top lies towards the first end therefore hangs, after a
quarter turn to the right, with the near selvedge at the left. Turning the cut or using it face down swaps the sides.
"""

from __future__ import annotations

from jobs.model.choices import End, Panels
from jobs.model.cuts import Hand, Selvedge, Way

HANDS = {
    Panels.PAIR: (Hand.LEFT, Hand.RIGHT),
    Panels.LEFT: (Hand.LEFT,),
    Panels.RIGHT: (Hand.RIGHT,),
    Panels.WHOLE: (Hand.WHOLE,),
}


def top_is_first(way: Way, top_towards: End) -> bool:
    """Whether the top edge of a cut lies nearer the piece's first end."""
    return (way is Way.TURNED) is (top_towards is End.LAST)


def leading_selvedge(hand: Hand, way: Way, top_first: bool) -> Selvedge:
    """The selvedge at the panel's leading edge: the right edge of a left panel, the left edge of a right one.

    A whole panel, which has no partner to meet, counts like a left one.
    """
    near_hangs_left = top_first is not (way is Way.FACE_DOWN)
    leads_left = hand is Hand.RIGHT
    return Selvedge.NEAR if near_hangs_left is leads_left else Selvedge.FAR
