"""The colour difference CIEDE2000, after G. Sharma, W. Wu and E. N. Dalal, Color Res. Appl. 30 (2005)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

OPPOSITE = 180 + 1e-9
"""Hues (degrees) no farther apart than this are averaged the short way: at just 180 the paper's rule must not hang on
the last bit of an arc tangent."""


def ciede2000(first: ArrayLike, second: ArrayLike) -> Floats:
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


def _steep(chroma: Floats) -> Floats:
    """sqrt(C^7 / (C^7 + 25^7))."""
    seventh = chroma**7
    return np.sqrt(seventh / (seventh + 25.0**7))


def _polar(colour: Floats, stretch: Floats) -> tuple[Floats, Floats]:
    """Chroma and hue in degrees, the red-green axis stretched."""
    red, blue = colour[..., 1] * stretch, colour[..., 2]
    return np.hypot(red, blue), np.degrees(np.arctan2(blue, red)) % 360


def _hues(h1: Floats, h2: Floats, grey: NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """Hue turned from the first to the second, and the mean hue, in degrees; a grey has no hue of its own."""
    turn, total = h2 - h1, h1 + h2
    far = np.abs(turn) > OPPOSITE
    short = np.where(far, turn - 360 * np.sign(turn), turn)
    mean = np.where(far, np.where(total < 360, total + 360, total - 360) / 2, total / 2)
    return np.where(grey, 0.0, short), np.where(grey, total, mean)


def _weighed(d_light: Floats, d_chroma: Floats, d_hue: Floats, light: Floats, chroma: Floats, hue: Floats) -> Floats:
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
