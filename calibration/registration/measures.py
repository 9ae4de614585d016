"""What a registered cloth measures: repeat, drop, skew, bow, and how it differs from the plan."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration.registration.fit import PrintFit, depth_shares
from calibration.registration.fitting import Term
from calibration.registration.registering import Registration

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Measured:
    """The cloth in numbers; uncertainties are standard ones, None for what was not measured but taken as planned.

    ``across_in`` is measured square to the selvedge. ``drop`` is how much further along, square to the selvedge, the
    next column lies, as a share of the measured repeat: the planned drop, and the skew that one column takes.
    """

    along_in: float
    across_in: float
    drop: float
    turn_deg: float
    skew_pct: float
    bow_pct: float
    along_uncertainty_in: float | None
    across_uncertainty_in: float | None
    skew_uncertainty_pct: float | None
    bow_uncertainty_pct: float | None

    def is_within(self, bow_limit_pct: float, skew_limit_pct: float) -> bool:
        """Whether bow and skew, whichever way they go, are no larger than was agreed; a limit itself is within."""
        slack = 1e-9  # a limit met exactly is met, whatever the last binary digit says
        return abs(self.bow_pct) <= bow_limit_pct + slack and abs(self.skew_pct) <= skew_limit_pct + slack


def measured(registration: Registration) -> Measured:
    """What the registration measured."""
    fit, lattice = registration.fit, registration.fit.lattice
    along = lattice.along_in * fit.stretch_along
    slide = fit.skew_in / lattice.width_in * lattice.across_in

    def size(term: Term, scale: float) -> float | None:
        found = registration.uncertainty(term)
        return None if found is None else found * scale

    return Measured(
        along_in=along,
        across_in=lattice.across_in * fit.stretch_across,
        drop=lattice.drop + slide / along,
        turn_deg=fit.turn_deg,
        skew_pct=fit.skew_pct,
        bow_pct=fit.bow_pct,
        along_uncertainty_in=size(Term.STRETCH_ALONG, lattice.along_in),
        across_uncertainty_in=size(Term.STRETCH_ACROSS, lattice.across_in),
        skew_uncertainty_pct=size(Term.SKEW, 100 / fit.stretch_across),
        bow_uncertainty_pct=size(Term.BOW, 100 / fit.stretch_across),
    )


def largest_difference_in(fit: PrintFit, along_from_in: float, along_to_in: float) -> float:
    """How far the print lies at most from a plain placing of the cloth over a stretch of the piece, whole width.

    Plain: print and selvedge brought together where the stretch begins at the near selvedge and turned along the
    selvedge, all else as planned, as with a ruler and the numbers of the plan.
    """
    plain = PrintFit(fit.lattice, turn_deg=fit.turn_deg)
    start = np.array([[along_from_in, 0.0]])
    x, y = (fit.to_table(start) - plain.to_table(start))[0].tolist()
    plain = replace(plain, shift=(x, y))
    return difference_in(fit, plain, along_from_in, along_to_in)


def difference_in(fit: PrintFit, other: PrintFit, along_from_in: float, along_to_in: float) -> float:
    """The largest distance on the table between two maps over a stretch of the piece, whole width."""
    # Between the ends the difference is a line in s: it is largest at one of them.
    piece = fit.lattice.edges(along_from_in, along_to_in, 64)
    return float(np.hypot(*(fit.to_table(piece) - other.to_table(piece)).T).max())


def squared(fit: PrintFit) -> PrintFit:
    """The same cloth with rows square to the selvedge: neither skewed nor bowed, as near the print as that allows.

    The rows are placed so that the print is off by as much one way as the other over the cloth width.
    """
    slide = _slides(fit)
    middle = float(slide.max() + slide.min()) / 2
    turn = math.radians(fit.turn_deg)
    shift = (fit.shift[0] + middle * math.cos(turn), fit.shift[1] + middle * math.sin(turn))
    return replace(fit, shift=shift, skew_in=0.0, bow_in=0.0)


@dataclass(frozen=True)
class SquareMismatch:
    """What cutting square to the selvedge costs.

    The print is off by ``seam_in`` where the far edge of one cut is joined to the near edge of the next, and off its
    row by up to ``row_in`` either way across one cut.
    """

    seam_in: float
    row_in: float


def square_mismatch(fit: PrintFit, near_in: float = 0.0, far_in: float = 0.0) -> SquareMismatch:
    """The mismatch of cuts made square; the seams lie so far inside the near and the far selvedge edge (planned)."""
    width = fit.lattice.width_in
    near, far = _slide(fit, np.array([near_in, width - far_in])).tolist()
    slide = _slides(fit)
    return SquareMismatch(abs(far - near), float(slide.max() - slide.min()) / 2)


def _slides(fit: PrintFit) -> Array:
    return _slide(fit, np.linspace(0, fit.lattice.width_in, 257))


def _slide(fit: PrintFit, across_in: Array) -> Array:
    """How much further along (N,) the print lies at distances from the near selvedge than at that selvedge."""
    width = fit.lattice.width_in
    return fit.skew_in * across_in / width + fit.bow_in * depth_shares(across_in, width)
