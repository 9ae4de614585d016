"""A panel as it hangs, in its own finished inches: where each motif comes, and which way it looks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field
from fractions import Fraction

from jobs.cutting.columns import columns_across
from jobs.model.choices import Part
from jobs.model.cuts import Cut, Edge, Hand, Placement, Way
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from jobs.model.window import Window
from projector.scene.lit_stop import steps_within

ZERO = Fraction(0)

_HANGING = (Part.LINING, Part.INTERLINING, Part.FLAT_PANEL)


@dataclass(frozen=True)
class HungMotif:
    """A motif point: from the panel's left edge and below its finished top, inches as finished.

    ``right`` and ``up`` are +1 where the motif looks as printed and -1 where it is reversed in that direction.
    """

    from_left: Fraction
    below_top: Fraction
    right: int
    up: int


@dataclass(frozen=True)
class Axis:
    """A distance on the piece, ``at`` the panel's upper left corner and so many more for each inch ``by`` which one
    goes to the right, or down where it ``falls``."""

    at: Fraction
    by: Fraction
    falls: bool

    def inverse(self, distance: Fraction) -> Fraction:
        """How far to the right of the corner, or below it, this distance comes to hang."""
        return (distance - self.at) / self.by


@dataclass(frozen=True)
class HungCut:
    """A cut as it hangs, inches: from ``left`` to ``right`` of its panel; where its places lie ``along`` the piece from
    the first end and ``across`` it from the near selvedge."""

    placement: Placement
    left: Fraction
    right: Fraction
    along: Axis
    across: Axis

    def hangs(self, along: Fraction, across: Fraction) -> tuple[Fraction, Fraction]:
        """From the panel's left edge and below its top, of a place on the piece."""
        one, other = self.along.inverse(along), self.across.inverse(across)
        return (other, one) if self.along.falls else (one, other)


@dataclass(frozen=True)
class HungPanel:
    """One finished panel seen from inside the room; cuts stand side by side from left to right.

    Panels are equal when they look the same, wherever in the cloth their ``cuts`` lie.
    """

    hand: Hand
    width: Fraction
    length: Fraction
    motifs: tuple[HungMotif, ...]
    seams: tuple[Fraction, ...]
    cuts: tuple[HungCut, ...] = field(default=(), compare=False)

    @property
    def rows_below_top(self) -> tuple[Fraction, ...]:
        """Distances of the rows below the finished top, each once."""
        return tuple(sorted({m.below_top for m in self.motifs if 0 <= m.below_top <= self.length}))


def hanging(plan: Plan) -> tuple[Window, ...]:
    """The windows of a plan that hang by themselves: no bands and no small things, where anything else is there."""
    seen = tuple(one for one in plan.job.windows if one.made is None or one.made.part in _HANGING)
    return seen or plan.job.windows


def hung_panels(plan: Plan, window: str) -> tuple[HungPanel, ...]:
    """The panels of a window, the left one first, flat and at their finished size."""
    placed = [p for p in plan.placements if p.cut.window == window]
    order = (Hand.LEFT, Hand.WHOLE, Hand.RIGHT)
    hands = sorted({p.cut.hand for p in placed}, key=order.index)
    return tuple(_panel(plan, hand, [p for p in placed if p.cut.hand is hand]) for hand in hands)


def _panel(plan: Plan, hand: Hand, placed: list[Placement]) -> HungPanel:
    leads_left = placed[0].cut.leading_edge is placed[0].cut.left_edge
    ordered = sorted(placed, key=lambda p: p.cut.number, reverse=not leads_left)
    motifs: list[HungMotif] = []
    cuts: list[HungCut] = []
    for placement in ordered:
        cuts.append(_hung(plan, placement, cuts[-1].right if cuts else ZERO))
        motifs += _motifs(plan, cuts[-1])
    seams = tuple(cut.right for cut in cuts[:-1])
    return HungPanel(hand, cuts[-1].right, finished_length(placed[0].cut, plan), tuple(motifs), seams, tuple(cuts))


def _hung(plan: Plan, placed: Placement, at: Fraction) -> HungCut:
    """A cut as it hangs, its left side ``at`` from that of its panel, shrunk as the cloth will."""
    cut, axes = placed.cut, dict[bool, Axis]()
    for edge, after in ((cut.top_edge, ZERO), (cut.left_edge, at)):
        inch = edge.sense / _kept(edge, plan)
        axes[edge.is_end] = Axis(placed.at(edge, cut.fold(edge)) + after * inch, -inch, falls=edge is cut.top_edge)
    right = at + cut.finished_width * _kept(cut.left_edge, plan)
    return HungCut(placed, at, right, along=axes[True], across=axes[False])


def _kept(edge: Edge, plan: Plan) -> Fraction:
    """What is kept in the wash of each inch away from an edge of a cut."""
    cloth = plan.job.cloth
    return 1 - (cloth.shrinkage if edge.is_end else cloth.shrinkage_across)


def _motifs(plan: Plan, hung: HungCut) -> Iterator[HungMotif]:
    """The motif points of the rows that a cut has, and of some beyond its ends."""
    placed, cloth = hung.placement, plan.job.cloth
    if cloth.repeat is None:
        return
    piece = next(use.piece for use in plan.pieces if use.number == placed.piece)
    right, up = 1 if placed.cut.way is Way.UPRIGHT else -1, -1 if placed.cut.way is Way.TURNED else 1
    reach = cloth.repeat.along
    for column, across in enumerate(columns_across(cloth)):
        first = piece.first_row + column * cloth.drop * reach
        for row in steps_within(first, reach, placed.start - 2 * reach, placed.end + 2 * reach):
            yield HungMotif(*hung.hangs(row, across), right, up)


def finished_length(cut: Cut, plan: Plan) -> Fraction:
    """What hangs of a cut: heading and hem folded away, shrunk as the cloth will."""
    return (cut.height - cut.heading - cut.hem) * _kept(cut.top_edge, plan)
