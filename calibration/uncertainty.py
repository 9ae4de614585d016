"""How far off the light can be: errors of placing the marks, and the lens, carried through the fit to any point.

Sources: R. Hartley and A. Zisserman, *Multiple View Geometry in Computer Vision*, 2nd ed., 2004, 5.2 (first-order
propagation; the covariance of the parameters is the inverse of what marks and prior tell of them); W. Baarda, *A
Testing Procedure for Use in Geodetic Networks*, 1968 (the smallest slip that shows), from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration import homography, photographed
from calibration.fitting import PLAIN, PLANE, USUAL, LensPrior, Linearised
from calibration.marks import HANDS, outside_frame
from calibration.quantiles import CENTRAL_95, radial_quantile, squares_tail
from calibration.table import Table

Array = NDArray[np.float64]

BAARDA = 4.13
"""Standard uncertainties between chance (1 in 1000) and what is found in 4 of 5 (Baarda 1968, from memory)."""
UNUSUAL = 0.05
"""Marks that leave more than all but this share of careful sets do are to be measured once more."""
DRAWN = 2000
"""Drawn calibrations behind the figure for everywhere: it is then true in 95 of 100, give or take half of one."""


@lru_cache(maxsize=4)
def _drawn(count: int) -> Array:
    """Standard normal draws (``count``, ``DRAWN``): always the same."""
    return np.random.default_rng(20).standard_normal((count, DRAWN))


def _scale(squares: float, freedom: int) -> float:
    """How far beyond their stated errors marks that leave these weighted squares must be taken to be.

    Each of ``HANDS`` is weighed by how well it explains the squares; the scale is that of the normal error with the
    same 95 % as all together. Few marks tell little of the hand, and so allow for a worse one.
    """
    shares = np.log([share for _, share in HANDS]) if freedom > 0 else np.zeros(1)
    sizes = np.array([worse for worse, _ in HANDS]) if freedom > 0 else np.ones(1)
    weights = shares - 0.5 * squares / sizes**2 - freedom * np.log(sizes)
    weights = np.exp(weights - weights.max())
    weights /= weights.sum()
    low, high = 1.0, float(sizes.max())
    for _ in range(50):
        middle = 0.5 * (low + high)
        beyond = sum(w * math.erfc(CENTRAL_95 * middle / s / math.sqrt(2)) for w, s in zip(weights, sizes, strict=True))
        low, high = (middle, high) if beyond > 0.05 else (low, middle)
    return high if high > 1.0 + 1e-9 else 1.0


@dataclass(frozen=True)
class PointError:
    """A 95 % error in inches and the table point it belongs to."""

    error_in: float
    at_in: tuple[float, float]


@dataclass(frozen=True)
class LineError:
    """95 % errors on one lit line: ``across_in`` square to it (what a cut feels), ``radial_in`` in any direction."""

    across_in: float
    radial_in: float
    at_in: tuple[float, float]


class Uncertainty:
    """Predicted errors of a fitted table, the bend of the lens that its marks cannot show included.

    ``scale`` multiplies the stated placing errors; left out, it is more than 1 when the marks themselves show worse.
    ``prior`` is what is known of the lens beside the marks. Where photographs made the table, all is as they told.
    """

    def __init__(self, table: Table, scale: float | None = None, prior: LensPrior = USUAL) -> None:
        self.table, self.prior = table, prior
        self.linear: Linearised | None = None
        if table.photographed is not None:
            self.squares, self.freedom, self.scale = 0.0, 0, 1.0
            self.parameters = table.photographed.spread
            return
        outside = outside_frame(table.marks, table.width_px, table.height_px)
        prior = PLAIN if outside and table.lens is None else prior
        made = Linearised(table.fit, table.marks, table.placing, prior)
        self.squares, self.freedom = made.squares, 2 * len(table.marks) - PLANE
        self.scale = _scale(self.squares, self.freedom) if scale is None else scale
        self.linear = (
            made if self.scale == 1.0 else Linearised(table.fit, table.marks, table.placing, prior, self.scale)
        )
        self.parameters = self.linear.covariance

    @property
    def disagree(self) -> bool:
        """Whether the marks leave more than 19 of 20 careful sets leave: no slip that can be named, and yet a doubt."""
        return self.freedom > 0 and squares_tail(self.squares, self.freedom) < UNUSUAL

    def slopes(self, points_in: ArrayLike) -> Array:
        """Derivatives (N, 2, P) of the lit pixel at table points by the fitted parameters (normalised, then lens)."""
        points = homography.points_of(points_in)
        if self.linear is not None:
            return self.linear.slopes(points)
        fit = self.table.fit
        ideal = homography.apply(fit.matrix, points)
        return photographed.slopes(ideal, fit.lens, self.table.width_px, self.table.height_px)

    def smallest_slips_in(self) -> Array:
        """How far off (N, 2), in inches, each number of each mark must be for the others to show it; huge: never.

        Baarda's least detectable error: four slips in five of this size leave what chance leaves once in a thousand.
        Nothing where photographs made the table: no number of a mark was typed.
        """
        if self.linear is None:
            return np.zeros((len(self.table.marks), 2))
        return BAARDA / np.sqrt(np.maximum(self.linear.information_of_others(), 1e-300))

    def slopes_in(self, points_in: ArrayLike) -> Array:
        """Derivatives (N, 2, P), in inches on the table, of where the light falls by the fitted parameters."""
        return np.asarray(np.linalg.solve(self.table.jacobian(points_in), self.slopes(points_in)), dtype=np.float64)

    def covariance_in(self, points_in: ArrayLike) -> Array:
        """Covariance (N, 2, 2), in square inches, of where the light falls that is meant for table points (N, 2)."""
        slopes = self.slopes_in(points_in)
        return slopes @ self.parameters @ slopes.transpose(0, 2, 1)

    def error_in(self, points_in: ArrayLike) -> Array:
        """Distances (N,) in inches within which the light meets table points (N, 2) in 95 % of such calibrations."""
        return radial_quantile(self.covariance_in(points_in))

    @cached_property
    def _slopes_everywhere(self) -> Array:
        return self.slopes_in(self.table.lit_points(25, 15))

    def everywhere_in(self, parameters: Array | None = None) -> float:
        """The distance in inches within which the light meets **all** of the lit area at once, in 95 of 100.

        No formula gives the chance that the largest of errors that hang together stays under a bound, so it is drawn:
        ``DRAWN`` calibrations of the predicted covariance, always the same ones, and of each the largest error over a
        grid of the frame with its border. ``parameters`` is their covariance (P, P), unless it is the predicted one.
        """
        slopes = self._slopes_everywhere
        values, vectors = np.linalg.eigh(self.parameters if parameters is None else parameters)
        # The symmetric root: directions of equal variance may come out in any turn, and on each machine in another.
        roots = (vectors * np.sqrt(np.maximum(values, 0.0))) @ vectors.T
        errors = (slopes.reshape(-1, slopes.shape[2]) @ roots) @ _drawn(slopes.shape[2])
        squares = errors[0::2] ** 2 + errors[1::2] ** 2
        return float(np.sqrt(np.quantile(squares.max(axis=0), 0.95)))

    def length_uncertainty_in(self, start_in: ArrayLike, end_in: ArrayLike) -> Array:
        """Standard uncertainty (N,) in inches of the distances between lit points (N, 2) and (N, 2)."""
        start, end = homography.points_of(start_in), homography.points_of(end_in)
        along = (end - start) / np.linalg.norm(end - start, axis=1)[:, None]
        slopes = np.einsum("ni,nip->np", along, self.slopes_in(end) - self.slopes_in(start))
        return np.sqrt(np.einsum("np,pq,nq->n", slopes, self.parameters, slopes))

    def worst(self, columns: int = 33, rows: int = 19) -> PointError:
        """The largest 95 % error over the lit area, looked for on a grid of the frame with its border."""
        points = self.table.lit_points(columns, rows)
        errors = self.error_in(points)
        index = int(np.argmax(errors))
        return PointError(float(errors[index]), (float(points[index, 0]), float(points[index, 1])))

    def along_line(self, start_in: ArrayLike, end_in: ArrayLike, steps: int = 24) -> LineError:
        """The largest 95 % errors on the line between two table points, looked at in ``steps`` steps."""
        start, end = homography.points_of(start_in)[0], homography.points_of(end_in)[0]
        points = start + (end - start) * np.linspace(0, 1, steps + 1)[:, None]
        covariance = self.covariance_in(points)
        along = (end - start) / np.linalg.norm(end - start)
        square = np.array([-along[1], along[0]])
        across = CENTRAL_95 * np.sqrt(np.einsum("i,nij,j->n", square, covariance, square))
        index = int(np.argmax(across))
        at = (float(points[index, 0]), float(points[index, 1]))
        return LineError(float(across[index]), float(radial_quantile(covariance).max()), at)
