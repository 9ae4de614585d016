"""A stop in table inches: the one place where exact lengths become floats."""

from __future__ import annotations

import math
from fractions import Fraction

from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Placement
from jobs.model.piece import Flaw
from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from jobs.model.schema import ZERO
from projector.scene.boxes import Box
from projector.scene.marks import Kind, Stroke


@dataclass(frozen=True)
class LitStop:
    """What a stop shows of one piece, in table inches: a position s of the piece lies at x = s - cloth_at_left.

    ``light`` is the lit stretch from the near edge of the cloth to where light or cloth ends; ``cut`` the part of the
    stop's cut inside it, which is ``near`` to ``far`` across. ``shown`` are the edges of the cut that are lit.
    """

    plan: Plan
    placement: Placement
    at_left: Fraction
    lit_from: Fraction
    lit_to: Fraction
    width: float
    near: float
    far: float
    light: Box
    cut: Box
    shown: frozenset[Edge]

    @property
    def cloth(self) -> Cloth:
        return self.plan.job.cloth

    def x(self, position: Fraction) -> float:
        """Table x of a position along the piece."""
        return float(position - self.at_left)

    def at(self, edge: Edge, inside: Fraction = ZERO) -> float:
        """Where the line lies that runs this far inside an edge of the cut: table x of an end, y of a selvedge."""
        position = self.placement.at(edge, inside)
        return self.x(position) if edge.is_end else float(position)

    def line(self, kind: Kind, edge: Edge, inside: Fraction = ZERO) -> tuple[Stroke, ...]:
        """The line that runs this far inside an edge of the cut, where lit: across all of it, or along the lit part."""
        at = self.at(edge, inside)
        if edge.is_end:
            lit = self.light.left <= at <= self.light.right
            return (Stroke(kind, ((at, self.near), (at, self.far))),) if lit else ()
        return self.lengthwise(kind, at)

    def lengthwise(self, kind: Kind, y: float) -> tuple[Stroke, ...]:
        """A line along the lit part of the cut at table y, where the light reaches so far."""
        return (Stroke(kind, ((self.cut.left, y), (self.cut.right, y))),) if y <= self.light.far else ()

    def slit(self, kind: Kind, y: float) -> tuple[Stroke, ...]:
        """A line along the lit part of the length that the cut shares, at table y, where the light reaches so far."""
        lit = self.span(*self.placement.crosscuts)
        return (Stroke(kind, ((lit.left, y), (lit.right, y))),) if lit is not None and y <= self.light.far else ()

    def span(self, start: Fraction, end: Fraction) -> Box | None:
        """The lit part of a stretch of the piece, selvedge to selvedge; None when none of it is lit."""
        return Box(self.x(start), 0.0, self.x(end), self.width).cut_to(self.light)

    def flaws(self) -> tuple[tuple[Flaw, Box], ...]:
        """The flaws of the piece with the lit part of each."""
        found = []
        for use in self.plan.pieces:
            for flaw in use.piece.flaws if use.number == self.placement.piece else ():
                near, far = flaw.across or (Fraction(0), self.cloth.width)
                box = Box(self.x(flaw.start), float(near), self.x(flaw.end), float(far)).cut_to(self.light)
                if box is not None:
                    found.append((flaw, box))
        return tuple(found)

    def done(self, ids: frozenset[str]) -> tuple[tuple[Placement, Box], ...]:
        """The cuts of the same piece that are done, with the lit part of each."""
        spans = (
            (placed, _box(placed, self.at_left).cut_to(self.light))
            for placed in self.plan.placements
            if placed.piece == self.placement.piece and placed.cut.id in ids
        )
        return tuple((placed, box) for placed, box in spans if box is not None)


def lit_stop(plan: Plan, stop: Stop, lit_width_in: float | None = None) -> LitStop:
    """The stop in table inches; ``lit_width_in`` is how far across the table the light reaches (None: over all cloth).

    Raises ValueError when nothing of the stop's cut is lit.
    """
    placed, left = stop.placement, stop.cloth_at_left
    width = float(plan.job.cloth.width)
    reach = width if lit_width_in is None else min(width, lit_width_in)
    light = Box(float(stop.lit_from - left), 0.0, float(stop.lit_to - left), reach)
    whole = _box(placed, left)
    # Where the light does not reach so far across, the lines that part the cut from the piece are lit all the same.
    cut = whole.cut_to(light) or Box(whole.left, 0.0, whole.right, width).cut_to(light)
    if cut is None:
        raise ValueError(f"stop {stop.number} lights nothing of cut {placed.cut.id}")

    def is_lit(edge: Edge) -> bool:
        return placed.cut.name_of(edge) in stop.shows if edge.is_end else placed.at(edge) <= reach

    return LitStop(
        plan=plan,
        placement=placed,
        at_left=left,
        lit_from=stop.lit_from,
        lit_to=stop.lit_to,
        width=width,
        near=whole.near,
        far=whole.far,
        light=light,
        cut=cut,
        shown=frozenset(filter(is_lit, Edge)),
    )


def _box(placed: Placement, at_left: Fraction) -> Box:
    near, far = placed.cut.across
    return Box(float(placed.start - at_left), float(near), float(placed.end - at_left), float(far))


def steps_within(first: Fraction, step: Fraction, start: Fraction, end: Fraction) -> tuple[Fraction, ...]:
    """All first + k x step from ``start`` to ``end`` inclusive, k any whole number."""
    low = math.ceil((start - first) / step)
    high = math.floor((end - first) / step)
    return tuple(first + k * step for k in range(low, high + 1))
