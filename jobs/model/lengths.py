"""Exact lengths: read what a person writes, show what a person in the trade reads, round up to what is sold.

All values are ``Fraction`` inches. 1 in = 25.4 mm and 1 yd = 0.9144 m exactly (international yard, 1959).
"""

from __future__ import annotations

import re
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.numbers import (
    NUMBER,
    LengthError,
    parse_fraction,
    parse_share,
    parse_whole,
    show_number,
    show_share,
    tidy,
    value_of,
)
from jobs.model.problems import Code

__all__ = [
    "LengthError",
    "parse_fraction",
    "parse_length",
    "parse_share",
    "parse_whole",
    "round_up",
    "show_cut",
    "show_length",
    "show_number",
    "show_order",
    "show_share",
]

FOOT, YARD = Fraction(12), Fraction(36)
MILLIMETRE, CENTIMETRE, METRE = Fraction(5, 127), Fraction(50, 127), Fraction(5000, 127)
LONGEST = 10_000 * YARD
SIXTEENTH = Fraction(1, 16)

_WORDS = {
    Fraction(1): ("in", "inch", "inches", '"', "″", "”", "''"),
    FOOT: ("ft", "foot", "feet", "'", "′", "’"),
    YARD: ("yd", "yds", "yard", "yards"),
    MILLIMETRE: ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    CENTIMETRE: ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    METRE: ("m", "metre", "metres", "meter", "meters"),
}
_SIZES = {word: size for size, words in _WORDS.items() for word in words}
_OF_UNIT = {Unit.INCH: Fraction(1), Unit.CENTIMETRE: CENTIMETRE, Unit.MILLIMETRE: MILLIMETRE}
_STEP = {Unit.INCH: SIXTEENTH, Unit.CENTIMETRE: MILLIMETRE, Unit.MILLIMETRE: MILLIMETRE}
_TERM = re.compile(rf"[ ]*{NUMBER}[ ]*(?P<unit>[^\W\d_]+\.?|''|[\"'″′”’]|)")


def parse_length(text: str, unit: Unit, *, signed: bool = False) -> Fraction:
    """The length in inches, exact; a bare number is in ``unit``.

    Reads ``11 1/4``, ``67-1/2``, ``11¼``, ``11.25``, ``28.6 cm``, ``3 3/4 yd``, ``5 ft 6 in`` and ``5' 6"``.
    Raises LengthError for anything else, for a length below zero unless ``signed``, and above 10,000 yards.
    """
    plain = tidy(text, "length")
    negative = plain[0] == "-"
    value = _sum_of_terms(plain[1:] if plain[0] in "+-" else plain, unit, text)
    if value > LONGEST:
        raise LengthError(Code.LENGTH_TOO_LONG, text=text)
    if negative and value:
        if not signed:
            raise LengthError(Code.LENGTH_BELOW_ZERO, text=text)
        return -value
    return value


def _sum_of_terms(plain: str, unit: Unit, text: str) -> Fraction:
    total, at = Fraction(0), 0
    sizes: list[Fraction] = []
    while at < len(plain):
        term = _TERM.match(plain, at)
        if term is None:
            raise LengthError(Code.NOT_A_LENGTH, text=text)
        word = term["unit"].casefold().removesuffix(".")
        size = _SIZES.get(word) if word else _OF_UNIT[unit]
        if size is None:
            raise LengthError(Code.UNKNOWN_UNIT, text=text)
        if (sizes or term.end() < len(plain)) and not word:
            parts = sizes or _TERM.match(plain, term.end())
            raise LengthError(Code.PARTS_WITHOUT_UNITS if parts else Code.NOT_A_LENGTH, text=text)
        if sizes and size >= sizes[-1]:
            raise LengthError(Code.PARTS_OUT_OF_ORDER, text=text)
        total += value_of(term) * size
        sizes.append(size)
        at = term.end()
    if not sizes:
        raise LengthError(Code.NOT_A_LENGTH, text=text)
    return total


def round_up(value: Fraction, step: Fraction) -> Fraction:
    """The least whole multiple of ``step`` (above zero) that is not below ``value``."""
    if step <= 0:
        raise ValueError("the step must be above zero")
    return -(-value // step) * step


def _nearest(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` nearest to ``value``; a tie goes away from zero, as people round."""
    whole = (abs(value) / step + Fraction(1, 2)) // 1
    return whole * step if value >= 0 else -whole * step


def show_cut(value: Fraction, unit: Unit) -> str:
    """The length as it is cut: to the nearest 1/16 in or the nearest millimetre (``67 1/2 in``, ``171.5 cm``)."""
    rounded = _nearest(value, _STEP[unit])
    if unit is Unit.INCH:
        return f"{show_number(rounded)} in"
    return f"{_decimals(rounded / _OF_UNIT[unit])} {unit.value}"


def show_length(value: Fraction, unit: Unit) -> str:
    """The length as ``show_cut`` shows it, with ``about`` before it wherever that is not the exact value."""
    exact = _nearest(value, _STEP[unit]) == value
    return show_cut(value, unit) if exact else f"about {show_cut(value, unit)}"


def show_order(value: Fraction, unit: Unit, sold_by: Fraction | None = None) -> str:
    """The amount to buy, rounded UP to ``sold_by`` (left out: 1/4 yd, or 10 cm in a metric job).

    Shown in yards, feet or metres, whichever says ``sold_by`` without a remainder: ``3 3/4 yd``, ``4.2 m``.
    """
    step = sold_by or order_step(unit)
    amount = round_up(value, step)
    for size, word in ((YARD, "yd"), (FOOT, "ft")):
        if (step / size).denominator in (1, 2, 4, 8):
            return f"{show_number(amount / size)} {word}"
    if step.denominator in (1, 2, 4, 8, 16):
        return f"{show_number(amount)} in"
    return f"{_decimals(amount / METRE, up=True)} m"


def order_step(unit: Unit) -> Fraction:
    """What orders are rounded up to when a job does not say: a quarter yard, or ten centimetres."""
    return YARD / 4 if unit is Unit.INCH else 10 * CENTIMETRE


def _decimals(value: Fraction, *, up: bool = False) -> str:
    """Decimals as short as they can be, at most three, rounded to nearest or ``up``."""
    thousandth = Fraction(1, 1000)
    rounded = round_up(value, thousandth) if up else _nearest(value, thousandth)
    whole, part = divmod(abs(rounded), 1)
    digits = f"{int(part * 1000):03d}".rstrip("0")
    return ("-" if rounded < 0 else "") + (f"{whole}.{digits}" if digits else f"{whole}")
