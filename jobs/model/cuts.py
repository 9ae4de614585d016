"""A cut as plain data: one length to take from the cloth, how it lies, and where it lies on a piece.

Positions are exact inches in the piece frame: along from the piece's first end, across from the near selvedge.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Way(StrEnum):
    """How a cut lies on the piece."""

    UPRIGHT = "upright"
    TURNED = "turned"
    FACE_DOWN = "face down"


class Hand(StrEnum):
    """Which panel of a window, as seen from inside the room."""

    LEFT = "left"
    RIGHT = "right"
    WHOLE = "whole"


class Selvedge(StrEnum):
    """The selvedge nearest the person, or the one across the table."""

    NEAR = "near"
    FAR = "far"


@dataclass(frozen=True)
class Side:
    """One side of a cut, measured across from the near selvedge.

    ``line`` is where the side is seamed (``joined``) or its hem is folded; ``trim`` where the cloth beyond is cut away
    first, None where nothing is.
    """

    line: Fraction
    joined: bool = False
    trim: Fraction | None = None


@dataclass(frozen=True)
class Cut:
    """One length to take from the cloth, before it has a place.

    ``row`` is the distance from the top edge down to the first row, in [0, repeat); None for plain cloth.
    ``top_first`` tells whether the top edge is the one nearer the piece's first end.
    ``heading`` and ``hem`` are the allowances as cut (shrinkage included): the finished top lies ``heading`` below
    the top edge, the finished foot ``hem`` above the foot edge. ``number`` of ``of`` counts cuts within the panel.
    ``across`` is the strip of the cloth the cut takes, from the near selvedge; None for the whole width. Cuts with the
    same non-empty word in ``beside`` lie side by side in one length of cloth: same start, length, row and way.
    ``near_side`` and ``far_side`` are its sides as they will be sewn; None where a plan was made without them.

    ``top_at`` is set only where the cloth is run sideways: the selvedge its top lies towards. Then ``length`` is the
    flat width of the panel, ``across`` reaches from foot to top (or top to foot), ``row`` is counted across the cloth,
    no selvedge leads, ``top_first`` has no meaning, and ``after_row`` is the distance from a row of the first column to
    its first edge, in [0, repeat); None for plain cloth.
    """

    id: str
    window: str
    hand: Hand
    panel: str
    number: int
    of: int
    length: Fraction
    handbook: Fraction
    row: Fraction | None
    way: Way
    top_first: bool
    leading_selvedge: Selvedge | None
    heading: Fraction
    hem: Fraction
    across: tuple[Fraction, Fraction] | None = None
    beside: str = ""
    near_side: Side | None = None
    far_side: Side | None = None
    top_at: Selvedge | None = None
    after_row: Fraction | None = None

    @property
    def is_sideways(self) -> bool:
        """Whether the panel lies with its height across the cloth."""
        return self.top_at is not None

    @property
    def leading_is_first(self) -> bool:
        """Whether the leading edge of a sideways cut is the one nearer the piece's first end.

        With its top at the far selvedge and its face up a panel lies as it hangs: what hangs left is nearer the first
        end, so a left or whole panel leads with the other. A turned or reversed one lies the other way about.
        """
        return (self.way is Way.UPRIGHT) is (self.hand is Hand.RIGHT)


@dataclass(frozen=True)
class Placement:
    """A cut with its place on a piece (piece numbers count from 1).

    ``top`` and ``foot`` are positions along the piece; of a sideways cut they are distances across, from the near
    selvedge, and ``leading`` and ``returning`` the positions along of the other two edges.
    """

    cut: Cut
    piece: int
    start: Fraction

    @property
    def end(self) -> Fraction:
        return self.start + self.cut.length

    @property
    def top(self) -> Fraction:
        if self.cut.top_at is not None:
            return self._across[self.cut.top_at is Selvedge.FAR]
        return self.start if self.cut.top_first else self.end

    @property
    def foot(self) -> Fraction:
        if self.cut.top_at is not None:
            return self._across[self.cut.top_at is Selvedge.NEAR]
        return self.end if self.cut.top_first else self.start

    @property
    def leading(self) -> Fraction | None:
        """Along the piece, of a sideways cut only."""
        return (self.start if self.cut.leading_is_first else self.end) if self.cut.is_sideways else None

    @property
    def returning(self) -> Fraction | None:
        """Along the piece, of a sideways cut only."""
        return (self.end if self.cut.leading_is_first else self.start) if self.cut.is_sideways else None

    @property
    def _across(self) -> tuple[Fraction, Fraction]:
        if self.cut.across is None:
            raise ValueError(f"{self.cut.id} lies sideways without its strip of the cloth")
        return self.cut.across
