"""Where to set marks: the first ones, and the one more that helps most."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import words
from calibration.lit import lit_points
from calibration.marks import tables_of
from calibration.quantiles import radial_quantile
from calibration.table import Table
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

APART = 0.05
"""A further mark is not set nearer to another one than this share of the lit area's extent."""
WORTH = 0.9
"""A further mark is worth setting when it brings the error for everywhere down to this share or less."""
FIRST_MARKS = "Set the first four marks near the four corners of the lit area: between them the light is surest."


@dataclass(frozen=True)
class MarkAdvice:
    """One further mark: its place, the pixel for it, how far off the light may be anywhere before and after."""

    at_in: tuple[float, float]
    pixel: tuple[float, float]
    where: str
    before_in: float
    after_in: float

    def sentence(self, unit: str = "in") -> str:
        """The advice in words."""
        before, after = words.error(self.before_in, unit), words.error(self.after_in, unit)
        return f"One more mark {self.where} of the lit area brings that from {before} down to {after}."


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

    Of all places that one is taken which leaves the smallest largest error of a place; judged is the error for
    everywhere. One more mark adds what it tells to what is known: no place needs a fit of its own.
    """
    made = Uncertainty(table)
    seen = lit_points(table, 21, 13)
    places, extent = tables_of(table.marks), float(np.linalg.norm(np.ptp(seen, axis=0)))
    grid = lit_points(table, columns, rows, inset=0.03)
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
    return MarkAdvice((x, y), (u, v), words.spot((x, y), table.lit_area()), before, after)


def with_marks(made: Uncertainty, places_in: Array) -> Array:
    """Covariances (N, P, P) of the parameters as they would be with one more mark at each of these places (N, 2)."""
    slopes, known = made.slopes(places_in), made.parameters
    spread = made.scale**2 * made.placing_covariance_px(places_in)
    carried = slopes @ known
    told = carried @ slopes.transpose(0, 2, 1) + spread
    return known - carried.transpose(0, 2, 1) @ np.linalg.solve(told, carried)
