"""How bright light on cloth is: Lambertian, channel by channel, with the light of the room.

A matt cloth of reflectance R under E lux shows R x E / pi candela per square metre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from projector.light.srgb import LUMINANCE

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Illumination:
    """What falls on the table, in lux: light of the room, and the projector's full white.

    ``native`` is how many times brighter white is than what the projector lets through as black.
    """

    room_lx: float = 300.0
    projector_lx: float = 2000.0
    native: float = 1000.0

    def __post_init__(self) -> None:
        for value in (self.room_lx, self.projector_lx, self.native):
            if not (math.isfinite(value) and value >= 0):
                raise ValueError("light is told in finite numbers of zero or more")
        if self.projector_lx == 0 or self.native < 1:
            raise ValueError("a projector gives some light, its black less than its white")

    @property
    def most_lx(self) -> float:
        """Lux where the projector shows full white."""
        return self.room_lx + self.projector_lx

    def on_table(self, projected: ArrayLike) -> Floats:
        """Lux per channel (..., 3) where ``projected`` (..., 3), linear light from 0 to 1, is shown."""
        shown = np.asarray(projected, float)
        return self.room_lx + self.projector_lx * (shown + (1 - shown) / self.native)


def projector_lx(lumens: float, width_in: float, height_in: float) -> float:
    """Lux of full white spread evenly over a picture of this size."""
    return lumens / (width_in * height_in * 0.0254**2)


def luminance_of(reflectance: ArrayLike, lux: ArrayLike) -> Floats:
    """Candela per square metre, per channel: reflectance x lux / pi, broadcast."""
    return np.asarray(reflectance, float) * np.asarray(lux, float) / math.pi


def brightness(light: ArrayLike) -> Floats:
    """Luminance (...) of linear light (..., 3), in the same unit."""
    return np.asarray(light, float) @ LUMINANCE


def wcag_contrast(first: ArrayLike, second: ArrayLike) -> float:
    """Contrast of two colours in linear light (3,), after the W3C's WCAG: (L1 + 0.05) / (L2 + 0.05), never below 1."""
    low, high = sorted((float(brightness(first)), float(brightness(second))))
    return (high + 0.05) / (low + 0.05)
