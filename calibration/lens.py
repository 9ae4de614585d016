"""Lens distortion, laid over the plane map in the frame.

The plane map gives the pixel an ideal lens would need; the lens moves it outwards or inwards from a centre. In focal
scales, with ``d = (ideal - centre) / focal`` and ``r = |d|``, the lit pixel is at
``d (1 + k1 r^2 + k2 r^4) + p r^2 + 2 d (p . d)``: the radial and the decentring terms of D. C. Brown, "Close-range
camera calibration", Photogrammetric Engineering 37 (1971). The OpenCV calib3d documentation writes them alike: k1 and
k2 here are its k1 and k2, ``p`` its (p2, p1), for fx = fy = ``focal_px``.
A lens whose axis stands at ``c`` from the centre is, but for a change of the plane map, one with ``p = -k1 c``.
Unless told otherwise the centre is the middle of the frame and the focal scale its width (a throw ratio of 1).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.homography import BeyondLens, points_of

Array = NDArray[np.float64]

WIDEST_R = 10.0
"""Radii beyond this many focal scales lie outside any projector's field (84 degrees off its axis)."""


@dataclass(frozen=True)
class Lens:
    """Terms ``k1``, ``k2`` and ``decentring`` (p) about ``centre_px``, with distances counted in ``focal_px``."""

    k1: float
    k2: float
    centre_px: tuple[float, float]
    focal_px: float
    decentring: tuple[float, float] = (0.0, 0.0)

    @classmethod
    def for_frame(cls, width_px: int, height_px: int, k1: float = 0.0, k2: float = 0.0) -> Lens:
        """A lens centred on the frame, with the frame's width as focal scale."""
        return cls(k1, k2, (width_px / 2, height_px / 2), float(width_px))

    @property
    def is_plain(self) -> bool:
        """True when the lens changes nothing."""
        return self.k1 == 0.0 and self.k2 == 0.0 and self.decentring == (0.0, 0.0)

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
        return self.centre_px + self.focal_px * self._bent(away, r2)

    def _bent(self, away: Array, r2: Array) -> Array:
        factor = 1 + r2 * (self.k1 + r2 * self.k2) + 2 * away @ self.decentring
        return away * factor[:, None] + r2[:, None] * self.decentring

    def jacobian(self, ideal_px: ArrayLike) -> Array:
        """Derivatives (N, 2, 2) of the lit pixel by the ideal one."""
        return self._slopes(*self._offsets(ideal_px))

    def _slopes(self, away: Array, r2: Array) -> Array:
        p = np.array(self.decentring)
        factor = 1 + r2 * (self.k1 + r2 * self.k2) + 2 * away @ p
        bend = 2 * self.k1 + 4 * self.k2 * r2
        straight = factor[:, None, None] * np.eye(2) + bend[:, None, None] * away[:, :, None] * away[:, None, :]
        return np.asarray(straight + 2 * (away[:, :, None] * p + p[:, None] * away[:, None, :]))

    def by_terms(self, ideal_px: ArrayLike) -> Array:
        """Derivatives (N, 2, 4) of the lit pixel by k1, k2 and the two numbers of the decentring."""
        away, r2 = self._offsets(ideal_px)
        radial = away[:, :, None] * np.stack([r2, r2**2], axis=1)[:, None, :]
        decentred = r2[:, None, None] * np.eye(2) + 2 * away[:, :, None] * away[:, None, :]
        return self.focal_px * np.concatenate([radial, decentred], axis=2)

    def undo(self, lit_px: ArrayLike) -> Array:
        """Ideal pixels (N, 2) of lit ones (N, 2), by Newton's method: on the radius, then in the plane.

        Raises ``BeyondLens`` for pixels that no ideal pixel within ``reach_r`` lights.
        """
        lit, lit_r2 = self._offsets(lit_px)
        away = lit * self._radial_share(np.sqrt(lit_r2))[:, None]
        if self.decentring != (0.0, 0.0):
            for _ in range(20):
                r2 = np.einsum("ij,ij->i", away, away)
                miss = self._bent(away, r2) - lit
                away = away - np.linalg.solve(self._slopes(away, r2), miss[:, :, None])[:, :, 0]
                if (np.abs(miss) <= 1e-15 * (1 + np.abs(lit))).all():
                    break
            _refuse(np.einsum("ij,ij->i", away, away) >= self.reach_r**2)
        return self.centre_px + self.focal_px * away

    def _radial_share(self, lit_r: Array) -> Array:
        """What share (N,) of a lit radius (N,) the ideal one is, by the radial terms alone; kept within bounds."""
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
        return np.divide(r, lit_r, out=np.ones_like(r), where=lit_r > 0)

    def lit_radius(self, r: Array) -> Array:
        """Radius (N,) of the lit pixel for an ideal radius (N,), both in focal scales, by the radial terms alone."""
        return r * (1 + self.k1 * r**2 + self.k2 * r**4)


def _refuse(lost: NDArray[np.bool_]) -> None:
    if lost.any():
        raise BeyondLens(tuple(int(index) for index in np.flatnonzero(lost)))
