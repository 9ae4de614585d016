"""Lengths and places in words, as a person at the table says them."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.homography import points_of

Array = NDArray[np.float64]

MM_PER_INCH = 25.4


def length(value_in: float, unit: str = "in") -> str:
    """A length for reading: inches to the nearest 1/16, small ones to 1/32 or 1/64; else centimetres or millimetres."""
    if unit == "mm":
        return f"{value_in * MM_PER_INCH:.1f} mm"
    if unit == "cm":
        return f"{value_in * MM_PER_INCH / 10:.2f} cm"
    size = abs(value_in)
    return _inches(value_in, 64 if size < 1 / 8 else 32 if size < 1 else 16, round)


def error(value_in: float, unit: str = "in") -> str:
    """A possible error for reading, rounded up: never shown smaller than it is."""
    if unit in ("mm", "cm"):
        tenths = math.ceil(value_in * MM_PER_INCH * 10 - 1e-9) / 10
        return f"{tenths:.1f} mm" if unit == "mm" else f"{tenths / 10:.2f} cm"
    return _inches(value_in, 64 if value_in < 1 / 8 else 32 if value_in < 1 else 16, lambda x: math.ceil(x - 1e-9))


def _inches(value_in: float, steps: int, rounding: Callable[[float], int]) -> str:
    whole = Fraction(rounding(value_in * steps), steps)
    sign, whole = ("-", -whole) if whole < 0 else ("", whole)
    units, rest = divmod(whole, 1)
    parts = ([str(units)] if units or not rest else []) + ([f"{rest.numerator}/{rest.denominator}"] if rest else [])
    return f"{sign}{' '.join(parts)} in"


AT_SPOT = 0.12
"""A place is at a corner, a side or the middle when it is nearer to it than this share of the area's diagonal."""


def spot(point_in: ArrayLike, area_in: ArrayLike) -> str:
    """Where a table point lies in an area (N, 2): "at the far right corner", "at the middle of the near side".

    A place that is at none of these is "between" the two it is nearest to.
    """
    area, point = points_of(area_in), points_of(point_in)[0]
    size = np.ptp(area, axis=0)
    corners = {
        f"the {across} {along} corner": area[np.argmax((area / size) @ (sx, sy))]
        for across, sy in (("near", -1), ("far", 1))
        for along, sx in (("left", -1), ("right", 1))
    }
    near_left, near_right, far_left, far_right = corners.values()
    spots = corners | {
        "the middle of the near side": (near_left + near_right) / 2,
        "the middle of the far side": (far_left + far_right) / 2,
        "the middle of the left end": (near_left + far_left) / 2,
        "the middle of the right end": (near_right + far_right) / 2,
        "the middle": (near_left + near_right + far_left + far_right) / 4,
    }
    ranked = sorted(spots, key=lambda name: float(np.linalg.norm(point - spots[name])))
    if np.linalg.norm(point - spots[ranked[0]]) <= AT_SPOT * np.linalg.norm(size):
        return f"at {ranked[0]}"
    return f"between {ranked[0]} and {ranked[1]}"
