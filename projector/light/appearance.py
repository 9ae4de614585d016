"""How bright light on cloth is: Lambertian, channel by channel, with the light of the room.

A matt cloth of reflectance R under E lux shows R x E / pi candela per square metre. Of a thin line only a share of its
light is left in its middle: the rest is spread to both sides before it leaves the lens.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from projector.light.colour import LUMINANCE
from projector.light.raster.arrays import Array

PX_PER_IN = 16.0
"""Pixels of the projector over an inch of the table: 1920 over ten feet."""
LENS_VAR = 0.25
"""Variance (px^2) of the spread of a lens in good focus, half a pixel to each side; our own judgement, no source."""
SPREAD_VAR = 1 / 6 + 1 / 12 + LENS_VAR
"""Variance (px^2) of what a thin line is spread over: the tent it is drawn with, the square pixel, the lens."""
LEAST_WIDTH_PX = 1.0
"""No line is drawn narrower: it would only grow dimmer."""
FLARE = 0.05
"""Share of the luminance of white paper that lies over all that is seen, as in the contrast ratio of the W3C's WCAG."""


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

    def on_table(self, projected: ArrayLike) -> Array:
        """Lux per channel (..., 3) where ``projected`` (..., 3), linear light from 0 to 1, is shown."""
        shown = np.asarray(projected, float)
        return self.room_lx + self.projector_lx * (shown + (1 - shown) / self.native)

    @property
    def unlit_lx(self) -> float:
        """Lux where the projector shows nothing: the room, and what passes as black."""
        return self.room_lx + self.projector_lx / self.native

    def in_line(self, projected: ArrayLike, share: float) -> Array:
        """Lux per channel (..., 3) in the middle of a line that keeps ``share`` of its light, on an unlit table."""
        return self.unlit_lx + share * (self.on_table(projected) - self.unlit_lx)


def line_share(width_in: float, px_per_in: float = PX_PER_IN) -> float:
    """Share of its light, 0 to 1, that is left in the middle of a line.

    A bar w wide, spread by a normal curve of variance v, keeps erf(w / sqrt(8 v)) of its height there.
    """
    return math.erf(max(width_in * px_per_in, LEAST_WIDTH_PX) / math.sqrt(8 * SPREAD_VAR))


def projector_lx(lumens: float, width_in: float, height_in: float) -> float:
    """Lux of full white spread evenly over a picture of this size."""
    return lumens / (width_in * height_in * 0.0254**2)


def luminance_of(reflectance: ArrayLike, lux: ArrayLike) -> Array:
    """Candela per square metre, per channel: reflectance x lux / pi, broadcast."""
    return np.asarray(reflectance, float) * np.asarray(lux, float) / math.pi


def brightness(light: ArrayLike) -> Array:
    """Luminance (...) of linear light (..., 3), in the same unit."""
    return np.asarray(light, float) @ LUMINANCE


def wcag_contrast(first: ArrayLike, second: ArrayLike) -> Array:
    """Contrast (...) of colours in linear light (..., 3), white being 1: (L1 + 0.05) / (L2 + 0.05), never below 1.

    After the W3C's WCAG 2, which takes 5 % of white for what glare and reflections lay over all that is seen.
    """
    one, two = brightness(first) + FLARE, brightness(second) + FLARE
    return np.asarray(np.maximum(one, two) / np.minimum(one, two))


def line_contrast(reflectance: ArrayLike, projected: ArrayLike, light: Illumination, share: float) -> Array:
    """Contrast (...) of lines that keep ``share`` of their light against the same cloth unlit beside them.

    ``reflectance`` and ``projected`` (..., 3) are broadcast. White is paper in the light of the room, to which an eye
    at the table is used: lines light little of what it sees.
    """
    cloth = np.asarray(reflectance, float)
    return wcag_contrast(cloth * light.in_line(projected, share) / light.unlit_lx, cloth)
