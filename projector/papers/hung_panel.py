"""A panel as it hangs, in its own finished inches: where each motif comes, and which way it looks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeVar

from jobs.cutting.columns import columns_across
from jobs.cutting.sideways.sizes import side_hem_of
from jobs.model.cuts import Cut, Hand, Placement, Selvedge, Way
from jobs.model.plan import Plan
from projector.scene.lit_stop import steps_within

ZERO = Fraction(0)

Number = TypeVar("Number", float, Fraction)


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

    def inverse(self, distance: Number) -> Number:
        """How far to the right of the corner, or below it, this distance comes to hang."""
        return (distance - type(distance)(self.at)) / type(distance)(self.by)


@dataclass(frozen=True)
class HungCut:
    """A cut as it hangs, inches: from ``left`` to ``right`` of its panel; where its places lie ``along`` the piece from
    the first end and ``across`` it from the near selvedge."""

    placement: Placement
    left: Fraction
    right: Fraction
    along: Axis
    across: Axis

    def hangs(self, along: Number, across: Number) -> tuple[Number, Number]:
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


def hung_panels(plan: Plan, window: str) -> tuple[HungPanel, ...]:
    """The panels of a window, the left one first, flat and at their finished size."""
    placed = [p for p in plan.placements if p.cut.window == window]
    order = (Hand.LEFT, Hand.WHOLE, Hand.RIGHT)
    hands = sorted({p.cut.hand for p in placed}, key=order.index)
    return tuple(_panel(plan, hand, [p for p in placed if p.cut.hand is hand]) for hand in hands)


def _panel(plan: Plan, hand: Hand, placed: list[Placement]) -> HungPanel:
    if placed[0].cut.is_sideways:
        return _sideways(plan, hand, placed[0])
    ordered = sorted(placed, key=lambda p: p.cut.number, reverse=not _leads_left(placed[0].cut))
    at = ZERO
    motifs: list[HungMotif] = []
    seams: list[Fraction] = []
    cuts: list[HungCut] = []
    for number, placement in enumerate(ordered):
        trimmed = _trimmed(plan, placement.cut, first=number == 0, last=number == len(ordered) - 1)
        cuts.append(_upright(plan, placement, at, trimmed))
        motifs += _motifs(plan, cuts[-1])
        at = cuts[-1].right
        seams.append(at)
    return HungPanel(hand, at, finished_length(placed[0].cut, plan), tuple(motifs), tuple(seams[:-1]), tuple(cuts))


def _upright(plan: Plan, placed: Placement, at: Fraction, trimmed: tuple[Fraction, Fraction]) -> HungCut:
    """A cut whose length hangs down, shrunk as the cloth will."""
    cut, width = placed.cut, plan.job.cloth.width
    down = 1 / (1 - plan.job.cloth.shrinkage)
    along = (placed.start + cut.heading, down) if cut.top_first else (placed.end - cut.heading, -down)
    across = (trimmed[0] - at, 1) if near_hangs_left(cut) else (width - trimmed[0] + at, -1)
    after = at + width - sum(trimmed)
    return HungCut(placed, at, after, Axis(*along, falls=True), Axis(across[0], Fraction(across[1]), falls=False))


def _sideways(plan: Plan, hand: Hand, placed: Placement) -> HungPanel:
    """A panel whose height lies across the cloth, shrunk as the cloth will: its print a quarter turn round."""
    cut, cloth, hem = placed.cut, plan.job.cloth, side_hem_of(plan.job)
    width = (cut.length - 2 * hem) * (1 - cloth.shrinkage)
    right, down = 1 / (1 - cloth.shrinkage), 1 / (1 - cloth.shrinkage_across)
    along = (placed.start + hem, right) if first_end_hangs_left(cut) else (placed.end - hem, -right)
    across = (placed.top - cut.heading, -down) if cut.top_at is Selvedge.FAR else (placed.top + cut.heading, down)
    hung = HungCut(placed, ZERO, width, Axis(*along, falls=False), Axis(*across, falls=True))
    return HungPanel(hand, width, finished_length(cut, plan), tuple(_motifs(plan, hung)), (), (hung,))


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


def first_end_hangs_left(cut: Cut) -> bool:
    """Whether of a sideways cut the edge towards the first end hangs at the left: it lies as it hangs, if upright."""
    return cut.way is Way.UPRIGHT


def finished_length(cut: Cut, plan: Plan) -> Fraction:
    """What hangs of a cut: heading and hem folded away, shrunk as the cloth will."""
    if cut.across is not None and cut.is_sideways:
        return (cut.across[1] - cut.across[0] - cut.heading - cut.hem) * (1 - plan.job.cloth.shrinkage_across)
    return (cut.length - cut.heading - cut.hem) * (1 - plan.job.cloth.shrinkage)


def _leads_left(cut: Cut) -> bool:
    return near_hangs_left(cut) is (cut.leading_selvedge is Selvedge.NEAR)


def near_hangs_left(cut: Cut) -> bool:
    """Whether the near selvedge comes to hang at the left, seen from the room."""
    return cut.top_first is not (cut.way is Way.FACE_DOWN)


def _trimmed(plan: Plan, cut: Cut, *, first: bool, last: bool) -> tuple[Fraction, Fraction]:
    """What is turned in, seamed off or cut away at the left and the right side of a cut, from the selvedges."""
    job = plan.job
    if cut.near_side is not None and cut.far_side is not None:
        near, far = cut.near_side.line, job.cloth.width - cut.far_side.line
        return (near, far) if near_hangs_left(cut) else (far, near)
    return (
        job.cloth.selvedge + (job.allowances.side_hem if first else job.allowances.seam),
        job.cloth.selvedge + (job.allowances.side_hem if last else job.allowances.seam),
    )
