"""Where a photograph sees the inches of the table: by the lit pattern, which the calibration knows.

The pattern falls on the cloth itself and so do the cut lines later: what is found by it holds where light meets cloth,
however thick the cloth is and however the camera stood.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from calibration import homography

Array = NDArray[np.float64]

NUMBERS = 12
"""A plane map's eight, two radial terms, two of decentring (D. Brown, Photogrammetric Engineering 37, 1971)."""
BEND_WIDTHS = np.array([0.2, 0.2, 0.01, 0.01])
"""What is known of lens terms beforehand, about nothing, in long sides of the picture (settings; no source)."""
LEAST_PX, FARTHEST_SIGMAS, NORMAL_MAD = 0.05, 3.5, 1.4826
STEP = 1e-5


@dataclass(frozen=True, eq=False)
class PhotoMap:
    """From table inches to pixels of a photograph ``size_px`` (width, height), counted from its corner.

    ``numbers`` (12,) and their ``covariance``; ``places`` (N, 2) are what it was fitted to, as far as they agreed;
    ``sigma_px`` how far they are off, each way.
    """

    origin: Array
    extent_in: float
    size_px: tuple[int, int]
    numbers: Array
    covariance: Array
    sigma_px: float
    places: Array

    @property
    def long_px(self) -> int:
        return max(self.size_px)

    def to_picture(self, table_in: Array) -> Array:
        """Pixels (N, 2) of table places (N, 2)."""
        return np.asarray(np.array(self.size_px) / 2 + self.long_px * _seen(self.numbers, self._near(table_in)))

    def _near(self, table_in: Array) -> Array:
        return np.asarray((table_in - self.origin) / self.extent_in)

    def px_per_in(self, table_in: Array) -> Array:
        """Derivatives (N, 2, 2) of ``to_picture``: row the pixel's coordinate, column the inch's."""
        steps = [
            (self.to_picture(table_in + step) - self.to_picture(table_in - step)) / 0.02
            for step in (np.array([0.01, 0]), np.array([0, 0.01]))
        ]
        return np.stack(steps, axis=-1)

    @property
    def dense_per_in(self) -> float:
        """How many pixels an inch has, in the middle."""
        return float(np.sqrt(abs(np.linalg.det(self.px_per_in(self.places.mean(axis=0)[None])[0]))))

    def slopes_in(self, table_in: Array) -> Array:
        """How table places (N, 2) seen at given pixels hang on the numbers: (N, 2, 12)."""
        by_number = _slopes(self.numbers, self._near(table_in))
        return np.asarray(-np.linalg.solve(self.px_per_in(table_in), self.long_px * by_number))


def photo_map(places: Array, pixels: Array, size_px: tuple[int, int], spread_px: float | None = None) -> PhotoMap:
    """The map through places (N, 2) of the table seen at pixels (N, 2), wrong ones left out.

    ``spread_px``: no place is known better. Raises ``OutOfReach`` or ``LinAlgError`` for places on no plane.
    """
    long_px = max(size_px)
    seen = (pixels - np.array(size_px) / 2) / long_px
    origin, extent = places.mean(axis=0), float(np.abs(places - places.mean(axis=0)).max())
    near = (places - origin) / extent
    start = homography.estimate(near, seen)
    numbers = np.append((start / start[2, 2]).ravel()[:8], np.zeros(4))
    kept = np.ones(len(near), bool)
    least = (spread_px or LEAST_PX) / long_px
    sigma = 4.0 / long_px
    for loss in ("soft_l1", "soft_l1", "linear", "linear"):
        numbers = _fitted(numbers, near[kept], seen[kept], sigma, loss)
        missed = np.abs(_seen(numbers, near) - seen)
        sigma = max(NORMAL_MAD * float(np.median(missed[kept])), least)
        if loss == "linear":
            kept = np.linalg.norm(missed, axis=1) <= FARTHEST_SIGMAS * sigma * 2**0.5
    slopes = _slopes(numbers, near[kept]).reshape(-1, NUMBERS) / sigma
    known = np.zeros((NUMBERS, NUMBERS))
    known[8:, 8:] = np.diag(BEND_WIDTHS**-2.0)
    covariance = np.asarray(np.linalg.inv(slopes.T @ slopes + known))
    return PhotoMap(origin, extent, size_px, numbers, covariance, sigma * long_px, places[kept])


def _seen(numbers: Array, near: Array) -> Array:
    """Where (N, 2) places (N, 2) are seen, in long sides of the picture from its middle."""
    flat = homography.apply(np.append(numbers[:8], 1.0).reshape(3, 3), near)
    x, y = flat.T
    r2 = x * x + y * y
    k1, k2, p1, p2 = numbers[8:].tolist()
    bend = 1 + r2 * (k1 + k2 * r2)
    aside = np.column_stack([2 * p1 * x * y + p2 * (r2 + 2 * x * x), p1 * (r2 + 2 * y * y) + 2 * p2 * x * y])
    return np.asarray(flat * bend[:, None] + aside)


def _slopes(numbers: Array, near: Array) -> Array:
    """Derivatives (N, 2, 12) of ``_seen`` by the numbers."""
    found = np.empty((len(near), 2, NUMBERS))
    for at in range(NUMBERS):
        step = np.zeros(NUMBERS)
        step[at] = STEP
        found[:, :, at] = (_seen(numbers + step, near) - _seen(numbers - step, near)) / (2 * STEP)
    return found


def _fitted(start: Array, near: Array, seen: Array, sigma: float, loss: str) -> Array:
    def missed(numbers: Array) -> Array:
        return np.append((_seen(numbers, near) - seen).ravel() / sigma, numbers[8:] / BEND_WIDTHS)

    def slopes(numbers: Array) -> Array:
        before = np.zeros((4, NUMBERS))
        before[:, 8:] = np.diag(1 / BEND_WIDTHS)
        return np.vstack([_slopes(numbers, near).reshape(-1, NUMBERS) / sigma, before])

    return np.asarray(least_squares(missed, start, slopes, x_scale="jac", loss=loss, max_nfev=40).x)
