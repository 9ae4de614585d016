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


def spot(point_in: ArrayLike, area_in: ArrayLike) -> str:
    """Where a table point lies in an area (N, 2): "the far right corner", "the middle of the near side"."""
    area, point = points_of(area_in), points_of(point_in)[0]
    share = (point - area.min(axis=0)) / np.ptp(area, axis=0)
    along = "left" if share[0] < 1 / 3 else "right" if share[0] > 2 / 3 else ""
    across = "near" if share[1] < 1 / 3 else "far" if share[1] > 2 / 3 else ""
    if along and across:
        return f"the {across} {along} corner"
    if across:
        return f"the middle of the {across} side"
    return f"the middle of the {along} end" if along else "the middle"
