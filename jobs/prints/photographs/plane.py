"""The map from lattice steps to pixels: straight, or with the perspective of a slanted photograph."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from jobs.prints.photographs.opening import Array

LEAST_FOR_PERSPECTIVE = 9
SURE = 4.0
"""Perspective is followed when it is this many times its own standard error."""


@dataclass(frozen=True)
class Plane:
    """``matrix`` (3, 3) takes (steps of the first kind, of the second, 1) to pixels; ``covariance`` (8, 8) is that
    of its first eight entries, the ninth being 1."""

    matrix: Array
    covariance: Array

    @classmethod
    def straight(cls, origin: Array, steps: Array) -> Plane:
        """Without perspective: origin (2,) and steps (2, 2), one a row, in pixels."""
        matrix = np.eye(3)
        matrix[:2, :2], matrix[:2, 2] = steps.T, origin
        return cls(matrix, np.zeros((8, 8)))

    def pixels(self, places: Array) -> Array:
        """Pixels (..., 2) of places (..., 2) in steps."""
        m = self.matrix
        u, v = places[..., 0], places[..., 1]
        below = m[2, 0] * u + m[2, 1] * v + m[2, 2]
        across = (m[0, 0] * u + m[0, 1] * v + m[0, 2]) / below
        down = (m[1, 0] * u + m[1, 1] * v + m[1, 2]) / below
        return np.stack([across, down], -1)

    def places(self, pixels: Array) -> Array:
        """Places (..., 2) in steps of pixels (..., 2)."""
        return Plane(np.linalg.inv(self.matrix).astype(float), self.covariance).pixels(pixels)

    def steps_at(self, pixel: Array) -> Array:
        """The two steps (2, 2), one a row, in pixels, as they are at a pixel (2,)."""
        return steps_of(self.matrix, self.places(pixel))

    def through(self, change: Array) -> Plane:
        """The same map from other steps: whole numbers ``change`` (2, 2), each row a new step in old ones."""
        wide = np.eye(3)
        wide[:2, :2] = change.T
        flat = np.kron(np.eye(3), wide.T)[:8, :8]
        return Plane(self.matrix @ wide, flat @ self.covariance @ flat.T)

    def moved(self, by: Array) -> Plane:
        """The same map to pixels counted from a place further left and up by ``by`` (2,)."""
        shift = np.eye(3)
        shift[:2, 2] = by
        flat = np.kron(shift, np.eye(3))[:8, :8]
        return Plane(shift @ self.matrix, flat @ self.covariance @ flat.T)


def mapped(matrix: NDArray[np.floating[Any]], points: Array) -> Array:
    """Images (..., 2) of points (..., 2) under a map (3, 3)."""
    lifted = points @ matrix[:, :2].T + matrix[:, 2]
    image: Array = lifted[..., :2] / lifted[..., 2:]
    return image


def steps_of(matrix: Array, place: Array) -> Array:
    """The two steps (2, 2), one a row, of a map (3, 3) at a place (2,)."""
    u, v = place
    below = matrix[2, 0] * u + matrix[2, 1] * v + matrix[2, 2]
    at = (matrix[:2, :2] @ place + matrix[:2, 2]) / below
    return np.stack([(matrix[:2, k] - at * matrix[2, k]) / below for k in (0, 1)])


def fit_plane(places: Array, pixels: Array, start: Plane) -> tuple[Plane, Array]:
    """The plane through places (n, 2) in steps seen at pixels (n, 2), and how far each is off, (n,) pixels.

    Perspective is fitted where the points are many and plainly show it. Gauss-Newton from ``start``.
    """
    straight = _solve(places, pixels, _flattened(start), 6)
    if len(places) < LEAST_FOR_PERSPECTIVE:
        return straight
    slanted = _solve(places, pixels, straight[0], 8)
    terms, spread = slanted[0].matrix[2, :2], slanted[0].covariance[6:, 6:]
    sure = float(terms @ np.linalg.pinv(spread) @ terms) > 2 * SURE**2
    return slanted if sure else straight


def _flattened(plane: Plane) -> Plane:
    return Plane.straight(plane.matrix[:2, 2], plane.matrix[:2, :2].T)


def _solve(places: Array, pixels: Array, start: Plane, terms: int) -> tuple[Plane, Array]:
    matrix = start.matrix / start.matrix[2, 2]
    kept = np.ones(len(places), bool)
    for _ in range(8):
        seen = Plane(matrix, np.zeros((8, 8))).pixels(places)
        off = pixels - seen
        table = _slopes(places, seen, matrix)[:, :, :terms]
        far = np.hypot(off[:, 0], off[:, 1])
        kept = far <= max(3.5 * float(np.median(far)), 0.05)
        rows, wanted = table[kept].reshape(-1, terms), off[kept].ravel()
        change = np.linalg.lstsq(rows, wanted, rcond=None)[0]
        matrix = matrix.copy()
        matrix.flat[:terms] += change
    off = pixels - Plane(matrix, np.zeros((8, 8))).pixels(places)
    rows = _slopes(places, pixels - off, matrix)[:, :, :terms][kept].reshape(-1, terms)
    free = max(1, rows.shape[0] - terms)
    spread = float((off[kept] ** 2).sum()) / free
    covariance = np.zeros((8, 8))
    covariance[:terms, :terms] = np.linalg.pinv(rows.T @ rows) * max(spread, 1e-6)
    return Plane(matrix, covariance), np.hypot(off[:, 0], off[:, 1])


def _slopes(places: Array, seen: Array, matrix: Array) -> Array:
    """(n, 2, 8): how pixels move with each entry of the matrix."""
    u, v = places[:, 0], places[:, 1]
    below = matrix[2, 0] * u + matrix[2, 1] * v + 1.0
    table = np.zeros((len(places), 2, 8))
    for row in (0, 1):
        table[:, row, 3 * row] = u / below
        table[:, row, 3 * row + 1] = v / below
        table[:, row, 3 * row + 2] = 1 / below
        table[:, row, 6] = -u * seen[:, row] / below
        table[:, row, 7] = -v * seen[:, row] / below
    return table
