"""One panel of a part as it is planned: its cuts from the leading edge outwards, and where on the print they lie."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import HalfAt, Run
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Placement
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from tests.jobs.whole_jobs.parts import Part
from tests.jobs.whole_jobs.print_plane import ZERO, Move, first_column

TOWARDS = {Edge.FIRST: (-1, 0), Edge.LAST: (1, 0), Edge.NEAR: (0, -1), Edge.FAR: (0, 1)}
"""Out of a rectangle, along and across the piece."""


@dataclass(frozen=True)
class Panel:
    """``cloth`` has every question about its print answered."""

    part: Part
    hand: Hand
    placed: tuple[Placement, ...]
    plan: Plan
    cloth: Cloth

    @property
    def sideways(self) -> bool:
        return self.cloth.run is Run.SIDEWAYS

    @property
    def printed(self) -> Fraction:
        """The cloth width between its selvedge strips."""
        return self.cloth.width - self.cloth.near_selvedge - self.cloth.far_selvedge

    @property
    def kept(self) -> tuple[Fraction, Fraction]:
        """What the wash leaves from top to foot, and from side to side."""
        cloth = self.cloth
        if self.sideways:
            # Only here does what the cloth loses across count.
            return 1 - cloth.shrinkage_across, 1 - cloth.shrinkage
        return 1 - cloth.shrinkage, Fraction(1)

    @property
    def named(self) -> int:
        """Which cut has the row that was asked for: the middle one, or the first that is whole."""
        if self.part.exact:
            return self.in_the_middle[0]
        if self.part.half_at is HalfAt.BOTH:
            return len(self.placed) // 2
        wide = [one.cut.across[1] - one.cut.across[0] for one in self.placed]
        return wide.index(max(wide))

    @property
    def in_the_middle(self) -> tuple[int, Fraction]:
        """The cut in which the middle of the panel lies, and how far from its leading line."""
        left = (self.part.flat or ZERO) / 2 / self.kept[1]
        for number, width in enumerate(self.widths):
            if left <= width:
                return number, left
            left -= width
        return len(self.placed) - 1, left

    def hung(self, number: int, edge: Edge, inside: Fraction) -> Move:
        """From below the finished top, and in from a line so far inside one of its sides, to the frame of the print."""
        one = self.placed[number]
        low, high = one.cut.across
        ends = {Edge.FIRST: one.start, Edge.LAST: one.start + one.cut.length, Edge.NEAR: low, Edge.FAR: high}
        found: dict[bool, tuple[int, Fraction]] = {}
        for at, in_from in ((one.cut.top_edge, one.cut.heading), (edge, inside)):
            inwards = -sum(TOWARDS[at])
            found[at.is_end] = inwards, ends[at] + inwards * in_from
        (along_sense, along), (across_sense, across) = found[True], found[False]
        first_row = self.plan.pieces[one.piece - 1].piece.first_row
        return Move(along_sense, along - first_row, across_sense, across - first_column(self.cloth))

    def from_leading(self, number: int) -> Move:
        """The same from the line at which its leading side is folded or seamed."""
        cut = self.placed[number].cut
        return self.hung(number, cut.leading_edge, cut.leading_side.line)

    @property
    def widths(self) -> list[Fraction]:
        return [finished_width(one.cut) for one in self.placed]


def finished_width(cut: Cut) -> Fraction:
    """Between the lines at which its sides are seamed or folded."""
    wide = cut.length if cut.leading_edge.is_end else cut.across[1] - cut.across[0]
    return wide - cut.leading_side.line - cut.return_side.line
