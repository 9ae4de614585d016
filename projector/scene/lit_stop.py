"""A stop in table inches: the one place where exact lengths become floats."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from jobs.model.cloth import Cloth, Flaw
from jobs.model.cuts import Placement, Selvedge, Way
from jobs.model.plan import Plan, Stop
from projector.scene.boxes import Box


@dataclass(frozen=True)
class LitStop:
    """What a stop shows of one piece, in table inches: a position s of the piece lies at x = s - cloth_at_left.

    ``light`` is the lit stretch from the near edge of the cloth to where light or cloth ends; ``cut`` the part of the
    stop's cut inside it, edge lines at ``top_x`` and ``foot_x`` whether lit or not, ``near`` to ``far`` across. Of
    cloth run sideways the edges lie at ``top_y``, ``foot_y``, ``leading_x`` and ``return_x`` instead.
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
    shows_top: bool
    shows_foot: bool
    shows_leading: bool
    shows_return: bool

    @property
    def cloth(self) -> Cloth:
        return self.plan.job.cloth

    @property
    def is_sideways(self) -> bool:
        """Whether the cut lies with its height across the cloth."""
        return self.placement.cut.is_sideways

    @property
    def top_x(self) -> float:
        return self.x(self._along(self.placement.top))

    @property
    def foot_x(self) -> float:
        return self.x(self._along(self.placement.foot))

    def _along(self, position: Fraction) -> Fraction:
        if self.is_sideways:
            raise ValueError(f"top and foot of {self.placement.cut.id} lie across the cloth, not along it")
        return position

    @property
    def top_y(self) -> float:
        """Of cloth run sideways."""
        return float(self.placement.top)

    @property
    def foot_y(self) -> float:
        """Of cloth run sideways."""
        return float(self.placement.foot)

    @property
    def leading_x(self) -> float:
        """Of cloth run sideways."""
        return self._edge_x(self.placement.leading)

    @property
    def return_x(self) -> float:
        """Of cloth run sideways."""
        return self._edge_x(self.placement.returning)

    def _edge_x(self, position: Fraction | None) -> float:
        if position is None:
            raise ValueError(f"a selvedge leads in {self.placement.cut.id}")
        return self.x(position)

    @property
    def rising(self) -> int:
        """Of cloth run sideways: +1 when the top lies away from the person, -1 when it lies nearest."""
        return 1 if self.placement.cut.top_at is Selvedge.FAR else -1

    @property
    def towards_top(self) -> int:
        """-1 when the top edge lies to the left along the table, +1 when to the right."""
        return -1 if self.placement.cut.top_first else 1

    @property
    def leading_is_near(self) -> bool:
        return self.placement.cut.leading_selvedge is Selvedge.NEAR

    @property
    def left_side_is_near(self) -> bool:
        """Whether the side that hangs at the left, seen from the room, lies nearest the person."""
        return self.placement.cut.top_first != (self.placement.cut.way is Way.FACE_DOWN)

    def x(self, position: Fraction) -> float:
        """Table x of a position along the piece."""
        return float(position - self.at_left)

    def span(self, start: Fraction, end: Fraction) -> Box | None:
        """The lit part of a stretch of the piece, selvedge to selvedge; None when none of it is lit."""
        return Box(self.x(start), 0.0, self.x(end), self.width).cut_to(self.light)

    def _box(self, placed: Placement) -> Box:
        near, far = across_of(placed, self.cloth)
        return Box(self.x(placed.start), near, self.x(placed.end), far)

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
            (placed, self._box(placed).cut_to(self.light))
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
    near, far = across_of(placed, plan.job.cloth)
    light = Box(float(stop.lit_from - left), 0.0, float(stop.lit_to - left), reach)
    start, end = float(placed.start - left), float(placed.end - left)
    cut = Box(start, near, end, far).cut_to(light)
    if cut is None and placed.cut.is_sideways:
        # The light does not reach so far across; the lines that part the panel from the piece are lit all the same.
        cut = Box(start, 0.0, end, width).cut_to(light)
    if cut is None:
        raise ValueError(f"stop {stop.number} lights nothing of cut {placed.cut.id}")
    return LitStop(
        plan=plan,
        placement=placed,
        at_left=left,
        lit_from=stop.lit_from,
        lit_to=stop.lit_to,
        width=width,
        near=near,
        far=far,
        light=light,
        cut=cut,
        shows_top="top" in stop.shows and (not placed.cut.is_sideways or placed.top <= reach),
        shows_foot="foot" in stop.shows and (not placed.cut.is_sideways or placed.foot <= reach),
        shows_leading="leading" in stop.shows,
        shows_return="return" in stop.shows,
    )


def across_of(placed: Placement, cloth: Cloth) -> tuple[float, float]:
    """The strip of the cloth a cut takes, from the near selvedge: the whole width unless it says otherwise."""
    near, far = placed.cut.across or (Fraction(0), cloth.width)
    return float(near), float(far)


def steps_within(first: Fraction, step: Fraction, start: Fraction, end: Fraction) -> tuple[Fraction, ...]:
    """All first + k x step from ``start`` to ``end`` inclusive, k any whole number."""
    low = math.ceil((start - first) / step)
    high = math.floor((end - first) / step)
    return tuple(first + k * step for k in range(low, high + 1))
