"""Colours as numbers: sRGB values, linear light and CIE L*a*b* (IEC 61966-2-1; CIE 015)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

TO_XYZ: Floats = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]],
)
"""Linear sRGB to CIE XYZ, to the four places that IEC 61966-2-1 gives."""
LUMINANCE: Floats = TO_XYZ[1]
WHITE_XYZ: Floats = TO_XYZ.sum(axis=1)
_CUBE = (6 / 29) ** 3


def decoded(values: ArrayLike) -> Floats:
    """Linear light, 0 to 1, of sRGB values 0..255, any shape."""
    share = np.asarray(values, float) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def encoded(light: ArrayLike) -> Floats:
    """sRGB values 0..255, not rounded, of linear light of any shape; what lies outside 0 to 1 is clipped."""
    share = np.clip(np.asarray(light, float), 0.0, 1.0)
    return 255 * np.where(share <= 0.0031308, 12.92 * share, 1.055 * share ** (1 / 2.4) - 0.055)


def channels(colour: int | str) -> Floats:
    """Red, green and blue (3,), 0..255, of 0xRRGGBB or ``#rrggbb``."""
    number = colour if isinstance(colour, int) else int(colour.removeprefix("#"), 16)
    return np.array([number >> 16 & 255, number >> 8 & 255, number & 255], float)


def lab(light: ArrayLike, white: float = 1.0) -> Floats:
    """CIE L*a*b* (..., 3) of linear light (..., 3), seen by an eye that takes equal light of ``white`` as white."""
    xyz = np.asarray(light, float) @ TO_XYZ.T / (white * WHITE_XYZ)
    root = np.where(xyz > _CUBE, np.cbrt(xyz), xyz / (3 * (6 / 29) ** 2) + 4 / 29)
    x, y, z = np.moveaxis(root, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def unlab(places: ArrayLike) -> Floats:
    """Linear light (..., 3) of L*a*b* (..., 3) against a white of 1."""
    light, red, blue = np.moveaxis(np.asarray(places, float), -1, 0)
    y = (light + 16) / 116
    root = np.stack([y + red / 500, y, y - blue / 200], axis=-1)
    xyz = np.where(root > 6 / 29, root**3, 3 * (6 / 29) ** 2 * (root - 4 / 29)) * WHITE_XYZ
    return xyz @ np.linalg.inv(TO_XYZ).T
