"""How far off the light can be: errors of placing the marks carried through the fit to any point of the table.

Source: R. Hartley and A. Zisserman, *Multiple View Geometry in Computer Vision*, 2nd ed., 2004, 5.2: first-order
propagation. The fit weighs all pixels alike while the marks do not err alike, so the covariance of the parameters
is ``G S G^T`` with ``G`` the pseudo-inverse of the derivatives at the marks and ``S`` the covariance of the marks.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration import homography
from calibration.lit import lit_points
from calibration.marks import pixels_of, tables_of
from calibration.quantiles import CENTRAL_95, radial_quantile, squares_tail
from calibration.table import Table

Array = NDArray[np.float64]

CLUMSY_CHANCE = 0.01
"""Marks that disagree more than chance would make them once in a hundred fits are taken to be placed less well."""


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
    """Predicted errors of a fitted table.

    ``scale`` multiplies the stated placing errors; left out, it is more than 1 when the marks themselves show worse.
    """

    def __init__(self, table: Table, scale: float | None = None) -> None:
        self.table = table
        self._given_scale = scale
        self.places = tables_of(table.marks)
        pixels = pixels_of(table.marks)
        self._to_source = homography.similarity(self.places)
        to_target = homography.similarity(table.ideal(pixels))
        middle = to_target @ table.matrix @ np.linalg.inv(self._to_source)
        self._middle = middle / middle[2, 2]
        self._target_scale = to_target[0, 0]
        self._back = np.linalg.pinv(self.slopes(self.places).reshape(2 * len(self.places), -1))
        self._mark_covariance = self.placing_covariance_px(self.places)

    @property
    def freedom(self) -> int:
        """How many pixel coordinates there are beyond the fitted parameters."""
        return 2 * len(self.places) - self._back.shape[0]

    def slopes(self, points_in: ArrayLike) -> Array:
        """Derivatives (N, 2, P) of the lit pixel at table points by the fitted parameters (normalised, then lens)."""
        points = homography.points_of(points_in)
        plane = homography.sensitivity(self._middle, homography.apply(self._to_source, points)) / self._target_scale
        lens = self.table.lens
        if lens is None or lens.terms == 0:
            return plane
        ideal = homography.apply(self.table.matrix, points, self.table.side)
        return np.concatenate([lens.jacobian(ideal) @ plane, lens.by_terms(ideal)[:, :, : lens.terms]], axis=2)

    def placing_covariance_px(self, points_in: Array) -> Array:
        """Covariance (N, 2, 2), in pixels, of setting one mark at table points (N, 2)."""
        placing = self.table.placing
        slopes = self.table.jacobian(points_in)
        return placing.tape_in**2 * slopes @ slopes.transpose(0, 2, 1) + placing.pointing_px**2 * np.eye(2)

    @cached_property
    def scale(self) -> float:
        """1, or by how much the marks disagree beyond their placing when that is no chance (``CLUMSY_CHANCE``)."""
        if self._given_scale is not None:
            return self._given_scale
        total = self.squares
        if self.freedom < 1 or squares_tail(total, self.freedom) >= CLUMSY_CHANCE:
            return 1.0
        return float(np.sqrt(total / self.freedom))

    @cached_property
    def squares(self) -> float:
        """Weighted squares of the residuals: a chi-square of ``freedom`` when marks are placed as well as stated."""
        if self.freedom < 1:
            return 0.0
        count = 2 * len(self.places)
        left = np.eye(count) - self.slopes(self.places).reshape(count, -1) @ self._back
        spread = np.einsum(
            "ipj,pjk,lpk->il", left.reshape(count, -1, 2), self._mark_covariance, left.reshape(count, -1, 2)
        )
        values, vectors = np.linalg.eigh(spread)
        seen = vectors[:, -self.freedom :].T @ self.table.residual_vectors_px.ravel()
        return float((seen**2 / values[-self.freedom :]).sum())

    @cached_property
    def parameters(self) -> Array:
        """Covariance (P, P) of the fitted parameters, with ``scale``."""
        back = self._back.reshape(self._back.shape[0], -1, 2)
        return self.scale**2 * np.einsum("anj,njk,bnk->ab", back, self._mark_covariance, back)

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

    def length_uncertainty_in(self, start_in: ArrayLike, end_in: ArrayLike) -> Array:
        """Standard uncertainty (N,) in inches of the distances between lit points (N, 2) and (N, 2)."""
        start, end = homography.points_of(start_in), homography.points_of(end_in)
        along = (end - start) / np.linalg.norm(end - start, axis=1)[:, None]
        slopes = np.einsum("ni,nip->np", along, self.slopes_in(end) - self.slopes_in(start))
        return np.sqrt(np.einsum("np,pq,nq->n", slopes, self.parameters, slopes))

    def worst(self, columns: int = 33, rows: int = 19) -> PointError:
        """The largest 95 % error over the lit area, looked for on a grid of the frame with its border."""
        points = lit_points(self.table, columns, rows)
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
