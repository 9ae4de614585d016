"""Colours as numbers: sRGB values, linear light and CIE L*a*b* (IEC 61966-2-1; CIE 015), the difference CIEDE2000, and
colours as eyes that lack one kind of cone see them.

The difference is that of G. Sharma, W. Wu and E. N. Dalal, Color Res. Appl. 30 (2005). Eyes that lack one kind of cone
follow G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based model for simulation of color vision
deficiency", IEEE Trans. Visualization and Computer Graphics 15 (2009): matrices for linear RGB at full severity.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from projector.light.raster.arrays import Array, Flags

TO_XYZ: Array = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]],
)
"""Linear sRGB to CIE XYZ, to the four places that IEC 61966-2-1 gives."""
LUMINANCE: Array = TO_XYZ[1]
WHITE_XYZ: Array = TO_XYZ.sum(axis=1)
_CUBE = (6 / 29) ** 3


def decoded(values: ArrayLike) -> Array:
    """Linear light, 0 to 1, of sRGB values 0..255, any shape."""
    share = np.asarray(values, float) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def encoded(light: ArrayLike) -> Array:
    """sRGB values 0..255, not rounded, of linear light of any shape; what lies outside 0 to 1 is clipped."""
    share = np.clip(np.asarray(light, float), 0.0, 1.0)
    return 255 * np.where(share <= 0.0031308, 12.92 * share, 1.055 * share ** (1 / 2.4) - 0.055)


def channels(colour: int | str) -> Array:
    """Red, green and blue (3,), 0..255, of 0xRRGGBB or ``#rrggbb``."""
    number = colour if isinstance(colour, int) else int(colour.removeprefix("#"), 16)
    return np.array([number >> 16 & 255, number >> 8 & 255, number & 255], float)


def lab(light: ArrayLike, white: float = 1.0) -> Array:
    """CIE L*a*b* (..., 3) of linear light (..., 3), seen by an eye that takes equal light of ``white`` as white."""
    xyz = np.asarray(light, float) @ TO_XYZ.T / (white * WHITE_XYZ)
    root = np.where(xyz > _CUBE, np.cbrt(xyz), xyz / (3 * (6 / 29) ** 2) + 4 / 29)
    x, y, z = np.moveaxis(root, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def unlab(places: ArrayLike) -> Array:
    """Linear light (..., 3) of L*a*b* (..., 3) against a white of 1."""
    light, red, blue = np.moveaxis(np.asarray(places, float), -1, 0)
    y = (light + 16) / 116
    root = np.stack([y + red / 500, y, y - blue / 200], axis=-1)
    xyz = np.where(root > 6 / 29, root**3, 3 * (6 / 29) ** 2 * (root - 4 / 29)) * WHITE_XYZ
    return xyz @ np.linalg.inv(TO_XYZ).T


OPPOSITE = 180 + 1e-9
"""Hues (degrees) no farther apart than this are averaged the short way: at just 180 the paper's rule must not hang on
the last bit of an arc tangent."""


def ciede2000(first: ArrayLike, second: ArrayLike) -> Array:
    """Difference of L*a*b* colours (..., 3) and (..., 3), broadcast against each other; parametric factors 1."""
    one, two = np.asarray(first, float), np.asarray(second, float)
    chroma = (np.hypot(one[..., 1], one[..., 2]) + np.hypot(two[..., 1], two[..., 2])) / 2
    stretch = 1 + 0.5 * (1 - _steep(chroma))
    c1, h1 = _polar(one, stretch)
    c2, h2 = _polar(two, stretch)
    grey = c1 * c2 == 0
    turn, hue = _hues(h1, h2, grey)
    d_light = two[..., 0] - one[..., 0]
    d_chroma = c2 - c1
    d_hue = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn) / 2)
    return _weighed(d_light, d_chroma, d_hue, (one[..., 0] + two[..., 0]) / 2, (c1 + c2) / 2, hue)


def _steep(chroma: Array) -> Array:
    """sqrt(C^7 / (C^7 + 25^7))."""
    seventh = chroma**7
    return np.sqrt(seventh / (seventh + 25.0**7))


def _polar(colour: Array, stretch: Array) -> tuple[Array, Array]:
    """Chroma and hue in degrees, the red-green axis stretched."""
    red, blue = colour[..., 1] * stretch, colour[..., 2]
    return np.hypot(red, blue), np.degrees(np.arctan2(blue, red)) % 360


def _hues(h1: Array, h2: Array, grey: Flags) -> tuple[Array, Array]:
    """Hue turned from the first to the second, and the mean hue, in degrees; a grey has no hue of its own."""
    turn, total = h2 - h1, h1 + h2
    far = np.abs(turn) > OPPOSITE
    short = np.where(far, turn - 360 * np.sign(turn), turn)
    mean = np.where(far, np.where(total < 360, total + 360, total - 360) / 2, total / 2)
    return np.where(grey, 0.0, short), np.where(grey, total, mean)


def _weighed(d_light: Array, d_chroma: Array, d_hue: Array, light: Array, chroma: Array, hue: Array) -> Array:
    """The three differences weighed as at their means."""
    angle = np.radians(hue)
    tone = (
        1
        - 0.17 * np.cos(angle - np.radians(30))
        + 0.24 * np.cos(2 * angle)
        + 0.32 * np.cos(3 * angle + np.radians(6))
        - 0.20 * np.cos(4 * angle - np.radians(63))
    )
    off = (light - 50) ** 2
    by_light = d_light / (1 + 0.015 * off / np.sqrt(20 + off))
    by_chroma = d_chroma / (1 + 0.045 * chroma)
    by_hue = d_hue / (1 + 0.015 * chroma * tone)
    twist = np.radians(30) * np.exp(-(((hue - 275) / 25) ** 2))
    mixed = -np.sin(2 * twist) * 2 * _steep(chroma) * by_chroma * by_hue
    return np.sqrt(np.maximum(by_light**2 + by_chroma**2 + by_hue**2 + mixed, 0.0))


COLOUR_VISIONS: Mapping[str, Array] = {
    "usual": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritan": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
"""Linear RGB to linear RGB, by kind of colour vision."""


def as_seen(light: ArrayLike, vision: str) -> Array:
    """Linear light (..., 3) as such a vision sees it, said in the light of the usual one; never below none."""
    return np.maximum(np.asarray(light, float) @ COLOUR_VISIONS[vision].T, 0.0)


def by_all_visions(light: ArrayLike) -> Array:
    """Linear light (..., 3) as each kind of vision sees it: (kinds, ..., 3), the usual one first."""
    return np.stack([as_seen(light, vision) for vision in COLOUR_VISIONS])
