"""How sure a calibration from photographs is: a covariance that travels with the table.

Marks set by hand are wrong each by itself, so what they tell of the map can be worked out from them again at any time.
Photographs are wrong together: one length gives the scale of everything, one lens bends all of a picture. What they
tell of map and lens is therefore kept. It is counted in the frame: the map comes out as ``(I + G) map``, with ``G``
(3, 3) acting on ideal pixels counted in widths from the middle of the frame, its last entry 0. So it stays the same
whatever the table's inches are counted from, and how thick the cloth is.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.lens import Lens

Array = NDArray[np.float64]

NUMBERS = 12
"""The eight entries of G row by row, then k1, k2 and the two numbers of the decentring."""


@dataclass(frozen=True, eq=False)
class Photographed:
    """``photographs`` were used, their corners ``sigma_px`` off on the whole; ``spread`` is the covariance (12, 12)."""

    photographs: int
    sigma_px: float
    spread: Array

    def __post_init__(self) -> None:
        spread = np.array(self.spread, dtype=np.float64)
        if spread.shape != (NUMBERS, NUMBERS) or not np.isfinite(spread).all():
            raise ValueError("the covariance of map and lens is 12 by 12 finite numbers")
        if np.linalg.eigvalsh((spread + spread.T) / 2).min() < -1e-9 * float(np.trace(spread)):
            raise ValueError("no covariance has a direction below zero")
        spread.setflags(write=False)
        object.__setattr__(self, "spread", spread)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Photographed):
            return NotImplemented
        same = (self.photographs, self.sigma_px) == (other.photographs, other.sigma_px)
        return same and np.array_equal(self.spread, other.spread)

    __hash__ = None  # type: ignore[assignment]


def widths_from_middle(width_px: int, height_px: int) -> Array:
    """The map (3, 3) from pixels to widths of the frame from its middle."""
    return np.array([[1 / width_px, 0, -0.5], [0, 1 / width_px, -0.5 * height_px / width_px], [0, 0, 1.0]])


def slopes(ideal_px: Array, lens: Lens, width_px: int, height_px: int) -> Array:
    """Derivatives (N, 2, 12) of the lit pixel, at ideal pixels (N, 2), by the numbers of the covariance."""
    q = homography.apply(widths_from_middle(width_px, height_px), ideal_px)
    by_map = width_px * homography.sensitivity(np.eye(3), q)
    return np.concatenate([lens.jacobian(ideal_px) @ by_map, lens.by_terms(ideal_px)], axis=2)
