"""What the marks leave open, the lens and numbers that no other mark tests, and the one more mark that helps most."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.fitting import PLANE
from calibration.marks import tables_of
from calibration.quantiles import CENTRAL_95, radial_quantile
from calibration.table import Table
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

APART = 0.05
"""A further mark is not set nearer to another one than this share of the lit area's extent."""
WORTH = 0.9
"""A further mark is worth setting when it brings the error for everywhere down to this share or less."""
LOUD_IN = 3 / 8
"""A slip larger than this must not go unseen without a warning."""
KNOWN = 0.7
"""Marks determine the lens when they leave k1 no more than this share of the width it has before any mark."""


@dataclass(frozen=True)
class MarkAdvice:
    """One further mark: its place, the pixel for it, how far off the light may be anywhere before and after."""

    at_in: tuple[float, float]
    pixel: tuple[float, float]
    before_in: float
    after_in: float


def first_targets(width_px: int, height_px: int, count: int = 4, inset: float = 0.06) -> Array:
    """Pixels (count, 2) to light for the first marks, 4 to 9 of them: corners, then mid-edges, then the middle.

    The corners come near-left, near-right, far-right, far-left for a rig that is not mirrored or turned. They keep a
    share ``inset`` of the frame's height from its edges.
    """
    if not 4 <= count <= 9:
        raise ValueError("first targets are 4 to 9")
    edge = inset * height_px
    left, right, top, bottom = edge, width_px - edge, edge, height_px - edge
    middle_u, middle_v = width_px / 2, height_px / 2
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    edges = [(middle_u, bottom), (middle_u, top), (left, middle_v), (right, middle_v)]
    return np.array([*corners, *edges, (middle_u, middle_v)][:count])


def next_mark(table: Table, columns: int = 11, rows: int = 7) -> MarkAdvice | None:
    """The one further mark, of a grid over the lit area, that most lowers what is expected; None if none is worth it.

    None too where photographs made the table: marks set by hand do not go with them.
    Of all places that one is taken which leaves the smallest largest error of a place; judged is the error for
    everywhere. One more mark adds its information to what is known: no place needs a fit of its own.
    """
    if table.photographed is not None:
        return None
    made = Uncertainty(table)
    seen = table.lit_points(21, 13)
    places, extent = tables_of(table.marks), float(np.linalg.norm(np.ptp(seen, axis=0)))
    grid = table.lit_points(columns, rows, inset=0.03)
    apart = np.linalg.norm(grid[:, None] - places, axis=2).min(axis=1)
    grid = grid[apart >= APART * extent]
    if not len(grid):
        return None
    spreads = with_marks(made, grid)
    slopes = made.slopes_in(seen)
    worst = [float(radial_quantile(slopes @ spread @ slopes.transpose(0, 2, 1)).max()) for spread in spreads]
    best = int(np.argmin(worst))
    before, after = made.everywhere_in(), made.everywhere_in(spreads[best])
    if after > WORTH * before:
        return None
    x, y = grid[best].tolist()
    u, v = table.to_frame([(x, y)])[0].tolist()
    return MarkAdvice((x, y), (u, v), before, after)


def with_marks(made: Uncertainty, places_in: Array) -> Array:
    """Covariances (N, P, P) of the parameters as they would be with one more mark at each of these places (N, 2)."""
    slopes, known = made.slopes(places_in), made.parameters
    spread = made.scale**2 * made.table.placing.covariance_px(made.table.jacobian(places_in))
    carried = slopes @ known
    innovation = carried @ slopes.transpose(0, 2, 1) + spread
    return known - carried.transpose(0, 2, 1) @ np.linalg.solve(innovation, carried)


@dataclass(frozen=True)
class Untested:
    """Marks (numbers from 1) in which a number may be wrong by up to ``up_to_in`` without the others showing it."""

    marks: tuple[int, ...]
    up_to_in: float


def untested(made: Uncertainty) -> Untested | None:
    """What five or more marks leave untested; numbers that can be but little wrong are left out."""
    sizes = made.smallest_slips_in().max(axis=1)
    loud = np.flatnonzero(sizes > LOUD_IN)
    if made.freedom < 1 or not len(loud):
        return None
    return Untested(tuple((loud + 1).tolist()), float(sizes[loud].max()))


@dataclass(frozen=True)
class LensUncertainty:
    """A radial term up to ``k1`` beside the fitted one cannot be ruled out; it would move the light by ``error_in``.

    ``by_marks`` is false when the marks say next to nothing of it.
    """

    k1: float
    error_in: float
    at_in: tuple[float, float]
    by_marks: bool


def lens_shows(made: Uncertainty) -> bool:
    """Whether the marks show a bend: the fitted k1 is more than chance, in 95 of 100 cases."""
    lens = made.table.lens
    if lens is None or made.parameters.shape[0] == PLANE:
        return lens is not None
    return abs(lens.k1) > CENTRAL_95 * math.sqrt(made.parameters[PLANE, PLANE])


def lens_uncertainty(made: Uncertainty) -> LensUncertainty | None:
    """What a bend at the end of its 95 % interval would do, the map giving way as it would; None where a bend shows.

    None as well for a lens that is taken to be perfect.
    """
    if made.parameters.shape[0] == PLANE or lens_shows(made):
        return None
    spread = math.sqrt(made.parameters[PLANE, PLANE])
    seen = made.table.lit_points(25, 15)
    moved = CENTRAL_95 * made.slopes_in(seen) @ (made.parameters[:, PLANE] / spread)
    errors = np.linalg.norm(moved, axis=1)
    index = int(np.argmax(errors))
    x, y = seen[index].tolist()
    determined = spread <= KNOWN * made.prior.k1
    return LensUncertainty(CENTRAL_95 * spread, float(errors[index]), (x, y), determined)
