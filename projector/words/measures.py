"""Lengths, numbers of marks and lists as a person at the table reads them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from fractions import Fraction

MM_PER_INCH = 25.4
NAMED = 6
"""So many marks are named one by one; of more, the first and how many."""


def format_length(value_in: float, unit: str = "in") -> str:
    """A length for reading: inches to the nearest 1/16, small ones to 1/32 or 1/64; else centimetres or millimetres."""
    if unit == "mm":
        return f"{value_in * MM_PER_INCH:.1f} mm"
    if unit == "cm":
        return f"{value_in * MM_PER_INCH / 10:.2f} cm"
    size = abs(value_in)
    return _inches(value_in, 64 if size < 1 / 8 else 32 if size < 1 else 16, round)


def format_read(value_in: float, unit: str = "in") -> str:
    """A length that a tape said, or the mean of two: none of it is rounded away that a tape shows."""
    return _inches(value_in, 64, round) if unit == "in" else format_length(value_in, unit)


def format_error(value_in: float, unit: str = "in") -> str:
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


def format_marks(numbers: Sequence[int]) -> str:
    """Mark numbers: "mark 3", "marks 1, 2 and 4", "marks 1, 2, 3, 4, 5 and 45 more"."""
    texts = [str(number) for number in numbers]
    if len(texts) > NAMED:
        texts = [*texts[: NAMED - 1], f"{len(texts) - NAMED + 1} more"]
    return f"mark {texts[0]}" if len(texts) == 1 else f"marks {', '.join(texts[:-1])} and {texts[-1]}"


def listed(items: Sequence[str], last: str = "and") -> str:
    """``a, b and c``."""
    *first, end = items
    return f"{', '.join(first)} {last} {end}" if first else end
