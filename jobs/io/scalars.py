"""Single values as they are written into a job file: exact, and read back as what they were."""

from __future__ import annotations

import json
import re
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.lengths import CENTIMETRE, MILLIMETRE, YARD, show_number
from jobs.model.numbers import LONGEST_TEXT

_PLAIN = re.compile(r"[^\W_](?:[\w .’()+/-]*[\w.)’])?")
_METRIC = {Unit.CENTIMETRE: CENTIMETRE, Unit.MILLIMETRE: MILLIMETRE}


def length(value_in: Fraction, unit: Unit) -> str:
    """The length, inches, as exact text in a file of this unit: ``11 1/4``, ``28.6``, ``127/150``.

    Raises ValueError for a fraction too long to be written.
    """
    if unit is Unit.INCH:
        return _fits(show_number(value_in))
    metric = value_in / _METRIC[unit]
    if (decimal := _decimal(metric)) is not None:
        return _fits(decimal)
    return _fits(show_number(metric))


def as_sold(value_in: Fraction, unit: Unit) -> str:
    """A step that cloth is sold in: in yards where that is a plain fraction (``1/4 yd``), else as ``length``."""
    yards = value_in / YARD
    plain = unit is Unit.INCH and yards.denominator in (1, 2, 4, 8)
    return f"{_fits(show_number(yards))} yd" if plain else length(value_in, unit)


def share(value: Fraction) -> str:
    """A share in percent, exact: ``3 %``, ``2 1/2 %``."""
    return f"{_fits(show_number(value * 100))} %"


def number(value: Fraction) -> str:
    """A bare number, exact: ``1 1/2``."""
    return _fits(show_number(value))


def yes_no(value: bool) -> str:
    """``yes`` or ``no``."""
    return "yes" if value else "no"


def text(value: str) -> str:
    """A name, in quotes wherever YAML would take some of its characters for its own."""
    return value if _PLAIN.fullmatch(value) else json.dumps(value, ensure_ascii=False)


def _fits(written: str) -> str:
    if len(written) > LONGEST_TEXT:
        raise ValueError(f"{written} is too long to be written")
    return written


def _decimal(value: Fraction) -> str | None:
    """The number in decimals, None where they do not end within nine places."""
    scaled = value * 10**9
    if scaled.denominator != 1:
        return None
    whole, part = divmod(abs(scaled.numerator), 10**9)
    digits = f"{part:09d}".rstrip("0")
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{digits}" if digits else f"{sign}{whole}"
