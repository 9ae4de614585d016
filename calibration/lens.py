"""Radial lens distortion, laid over the plane map in the frame.

The plane map gives the pixel an ideal lens would need; the lens term moves it outwards or inwards from a centre:
``pixel = centre + d (1 + k1 r^2 + k2 r^4)``, where ``d = ideal - centre`` and ``r = |d| / focal``.
Source of the form: D. C. Brown, "Close-range camera calibration", Photogrammetric Engineering 37 (1971); the OpenCV
calib3d documentation writes it alike, so k1 and k2 here are its k1 and k2 for fx = fy = ``focal_px``.
Unless told otherwise the centre is the middle of the frame and the focal scale its width (a throw ratio of 1).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.homography import points_of
from calibration.reach import BeyondLens

Array = NDArray[np.float64]

WIDEST_R = 10.0
"""Radii beyond this many focal scales lie outside any projector's field (84 degrees off its axis)."""


@dataclass(frozen=True)
class Lens:
    """Radial terms ``k1`` and ``k2`` about ``centre_px``, with radii counted in ``focal_px``."""

    k1: float
    k2: float
    centre_px: tuple[float, float]
    focal_px: float

    @classmethod
    def for_frame(cls, width_px: int, height_px: int, k1: float = 0.0, k2: float = 0.0) -> Lens:
        """A lens centred on the frame, with the frame's width as focal scale."""
        return cls(k1, k2, (width_px / 2, height_px / 2), float(width_px))

    @property
    def terms(self) -> int:
        """How many radial terms are in use: 0, 1 (k1) or 2."""
        return 2 if self.k2 else 1 if self.k1 else 0

    @property
    def is_plain(self) -> bool:
        """True when the lens changes nothing."""
        return self.k1 == 0.0 and self.k2 == 0.0

    @property
    def reach_r(self) -> float:
        """Largest ideal radius (in focal scales) up to which moving outwards lights a pixel farther out.

        The smallest positive root of ``1 + 3 k1 r^2 + 5 k2 r^4``, and never more than ``WIDEST_R``.
        """
        root = (3 * self.k1) ** 2 - 20 * self.k2
        below = [-3 * self.k1 + sign * math.sqrt(root) for sign in (1, -1)] if root >= 0 else []
        return math.sqrt(min([2 / value for value in below if value > 2 / WIDEST_R**2], default=WIDEST_R**2))

    def _offsets(self, points_px: ArrayLike) -> tuple[Array, Array]:
        away = (points_of(points_px) - self.centre_px) / self.focal_px
        return away, np.einsum("ij,ij->i", away, away)

    def reaches(self, ideal_px: ArrayLike) -> NDArray[np.bool_]:
        """Which ideal pixels (N,) of (N, 2) lie within ``reach_r``."""
        return self._offsets(ideal_px)[1] < self.reach_r**2

    def apply(self, ideal_px: ArrayLike) -> Array:
        """Pixels (N, 2) to light for ideal pixels (N, 2). Raises ``BeyondLens`` outside ``reach_r``."""
        away, r2 = self._offsets(ideal_px)
        _refuse(r2 >= self.reach_r**2)
        return self.centre_px + self.focal_px * away * (1 + r2 * (self.k1 + r2 * self.k2))[:, None]

    def jacobian(self, ideal_px: ArrayLike) -> Array:
        """Derivatives (N, 2, 2) of the lit pixel by the ideal one."""
        away, r2 = self._offsets(ideal_px)
        factor = 1 + r2 * (self.k1 + r2 * self.k2)
        bend = 2 * self.k1 + 4 * self.k2 * r2
        return factor[:, None, None] * np.eye(2) + bend[:, None, None] * away[:, :, None] * away[:, None, :]

    def by_terms(self, ideal_px: ArrayLike) -> Array:
        """Derivatives (N, 2, 2) of the lit pixel by k1 (first column) and k2 (second)."""
        away, r2 = self._offsets(ideal_px)
        return self.focal_px * away[:, :, None] * np.stack([r2, r2**2], axis=1)[:, None, :]

    def undo(self, lit_px: ArrayLike) -> Array:
        """Ideal pixels (N, 2) of lit ones (N, 2), by Newton's method on the radius, kept within bounds.

        Raises ``BeyondLens`` for pixels that no ideal pixel within ``reach_r`` lights.
        """
        away, lit_r2 = self._offsets(lit_px)
        lit_r = np.sqrt(lit_r2)
        reach = np.array([self.reach_r])
        _refuse(lit_r >= self.lit_radius(reach))
        low, high = np.zeros_like(lit_r), np.full_like(lit_r, reach[0])
        r = np.minimum(lit_r, 0.5 * high)
        for _ in range(80):
            miss = self.lit_radius(r) - lit_r
            if (np.abs(miss) <= 4e-16 * (1 + lit_r)).all():
                break
            low, high = np.where(miss < 0, r, low), np.where(miss > 0, r, high)
            slope = 1 + 3 * self.k1 * r**2 + 5 * self.k2 * r**4
            with np.errstate(divide="ignore", invalid="ignore"):
                newton = r - miss / slope
            r = np.where((newton > low) & (newton < high), newton, 0.5 * (low + high))
        ratio = np.divide(r, lit_r, out=np.ones_like(r), where=lit_r > 0)
        return self.centre_px + self.focal_px * away * ratio[:, None]

    def lit_radius(self, r: Array) -> Array:
        """Radius (N,) of the lit pixel for an ideal radius (N,), both in focal scales."""
        return r * (1 + self.k1 * r**2 + self.k2 * r**4)


def _refuse(lost: NDArray[np.bool_]) -> None:
    if lost.any():
        raise BeyondLens(tuple(int(index) for index in np.flatnonzero(lost)))
