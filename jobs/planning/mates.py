"""Which edges of a plan's cuts meet: sewn to each other, or hanging side by side in the middle of a window.

Cuts of a panel are counted from its leading edge, so the return edge of one is sewn to the leading edge of the next.
The leading edges of a pair hang beside each other, whichever selvedge they lie at: in a mirrored pair of turned panels
it is the same one, else it may be the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from jobs.cutting.hands import OTHER
from jobs.model.cuts import Edge, Placement
from jobs.model.records import dataclass


@dataclass(frozen=True)
class Meeting:
    """An edge of a cut and the edge of its ``mate`` that it meets; ``sewn`` to it, or hanging beside it."""

    cut: Placement
    edge: Edge
    mate: Placement
    mate_edge: Edge
    sewn: bool

    @property
    def line(self) -> Fraction:
        """Where the cut is seamed or folded there: along the piece, or across it."""
        return _line(self.cut, self.edge)

    @property
    def mate_line(self) -> Fraction:
        """The same of its mate."""
        return _line(self.mate, self.mate_edge)


def _line(placed: Placement, edge: Edge) -> Fraction:
    return placed.at(edge, placed.cut.fold(edge))


def meetings_of(own: Placement, placements: Iterable[Placement]) -> tuple[Meeting, ...]:
    """What the edges of a placed cut meet among ``placements``, from its leading edge on; none where its panel hangs by
    itself."""
    return tuple(_meetings(own, list(placements)))


def _meetings(own: Placement, others: list[Placement]) -> Iterator[Meeting]:
    cut = own.cut
    for mate in others:
        other = mate.cut
        if other.window != cut.window:
            continue
        if other.hand is cut.hand and other.number == cut.number - 1:
            yield Meeting(own, cut.leading_edge, mate, other.return_edge, sewn=True)
        elif OTHER.get(cut.hand) is other.hand and cut.number == other.number == 1:
            yield Meeting(own, cut.leading_edge, mate, other.leading_edge, sewn=False)
    for mate in others:
        other = mate.cut
        if (other.window, other.hand, other.number) == (cut.window, cut.hand, cut.number + 1):
            yield Meeting(own, cut.return_edge, mate, other.leading_edge, sewn=True)
