"""How the cloth was laid at a stop, and what that says of the stops after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice, PrintPoint
from jobs.model.plan import Plan, Stop
from projector.scene.print_marks import NoLattice, lattice_of
from projector.session.state.motion import Motion


@dataclass(frozen=True)
class Laid:
    """One laying: the fit while position ``at_left`` of the piece lay at the left end, and the points it came from.

    ``ticks`` tells how many cuts were done by then, so that undoing takes the last thing first,
    ``motion_before`` how the light was moved by hand when it was kept.
    """

    piece: int
    cut: str
    at_left: Fraction
    fit: PrintFit
    points: tuple[PrintPoint, ...]
    ticks: int = 0
    motion_before: Motion = field(default_factory=Motion)

    def fit_at(self, at_left: Fraction) -> PrintFit:
        """The fit once the cloth was pulled along its selvedge to another position."""
        return self.fit.pulled(float(at_left - self.at_left))

    def is_for(self, stop: Stop) -> bool:
        """Whether the cloth has not been pulled since: same cut, same position."""
        return self.cut == stop.placement.cut.id and self.at_left == stop.cloth_at_left


def last_on(layings: Sequence[Laid], piece: int) -> Laid | None:
    """The last laying of a piece of cloth."""
    return next((laid for laid in reversed(layings) if laid.piece == piece), None)


def fit_at(layings: Sequence[Laid], stop: Stop) -> PrintFit | None:
    """The fit that a stop is lit by: the last one of its piece, pulled to the stop; None when it was never laid."""
    laid = last_on(layings, stop.placement.piece)
    return None if laid is None else laid.fit_at(stop.cloth_at_left)


def lattices_of(plan: Plan) -> tuple[PrintLattice | None, ...]:
    """The print of each piece; None where the cloth is plain or its repeat across is not given."""
    found: list[PrintLattice | None] = []
    for use in plan.pieces:
        try:
            found.append(lattice_of(plan.job.cloth, use.piece))
        except NoLattice:
            found.append(None)
    return tuple(found)
