"""Exact numbers from what a person writes: ``11 1/4``, ``67-1/2``, ``11.25``, ``½``, ``3 %``."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

LONGEST_TEXT = 60
LARGEST = 1_000_000

NUMBER = (
    r"(?:(?:(?P<whole>[0-9]+)(?:[ ]+|-))?(?P<over>[0-9]+)[ ]?/[ ]?(?P<under>[0-9]+)|(?P<point>[0-9]*\.[0-9]+|[0-9]+))"
)
_ALONE = re.compile(rf"(?P<sign>[+-]?)[ ]?{NUMBER}(?P<rest>.*)", re.DOTALL)
_DECIMAL_COMMA = re.compile(r"(?<![0-9,])([0-9]+),([0-9]{1,2}|[0-9]{4,})(?![0-9,])")
_LOOKALIKES = str.maketrans({"⁄": "/", "∕": "/", "−": "-", "‐": "-", "‑": "-", "–": "-", "\u00a0": " ", "\u202f": " "})


class LengthError(ValueError):
    """A number or length that has no meaning here: ``what`` is wrong and ``advice`` on what to write instead."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}; {advice}")
        self.what = what
        self.advice = advice


def quoted(text: str, longest: int = 40) -> str:
    """The text in quotes on one line, shortened, with whatever cannot be printed written as an escape."""
    short = text if len(text) <= longest else text[: longest - 3] + "..."
    return '"' + "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in short) + '"'


def tidy(text: str, what: str, example: str) -> str:
    """The text with fraction characters and dashes in their plain form; refuses what cannot be a number at all."""
    if len(text) > LONGEST_TEXT:
        raise LengthError(f"{quoted(text)} is too long for {what}", f"write {example}")
    spread = "".join(
        " " + unicodedata.normalize("NFKC", c) if "VULGAR FRACTION" in unicodedata.name(c, "") else c for c in text
    )
    plain = " ".join(spread.translate(_LOOKALIKES).split())
    if not plain:
        raise LengthError(f"{what} is missing", f"write {example}")
    if "," in plain:
        mended = _DECIMAL_COMMA.sub(r"\1.\2", plain)
        better = mended if "," not in mended and mended.isprintable() else f"{example}, with nothing between thousands"
        raise LengthError(f"{quoted(text)} has a comma in it", f"write {better}")
    return plain


def value_of(match: re.Match[str]) -> Fraction:
    """The exact value of a match of ``NUMBER``; refuses a zero divisor and a mixed number such as 11 5/4."""
    if match["point"] is not None:
        return Fraction(match["point"])
    over, under = int(match["over"]), int(match["under"])
    if under == 0:
        raise LengthError(
            f"{over}/0 divides by nothing", "write the fraction with a number under the line, such as 1/2"
        )
    part = Fraction(over, under)
    if match["whole"] is None:
        return part
    if part >= 1:
        meant = show_number(int(match["whole"]) + part)
        raise LengthError(f"{match['whole']} {over}/{under} has a fraction of one or more in it", f"write {meant}")
    return int(match["whole"]) + part


def parse_fraction(text: str, *, signed: bool = False) -> Fraction:
    """A bare number such as ``1/2``, ``2 1/2`` or ``2.5``; raises LengthError."""
    plain = tidy(text, "a number", "a number such as 1/2 or 2.5")
    match = _ALONE.fullmatch(plain)
    if match is None or match["rest"]:
        raise LengthError(f"{quoted(text)} is not a number", "write a number such as 1/2 or 2.5")
    value = value_of(match)
    if value > LARGEST:
        raise LengthError(f"{quoted(text)} is too large", "look for a slip of the finger")
    if match["sign"] == "-" and value:
        if not signed:
            raise LengthError(f"{quoted(text)} is below zero", "write a number of zero or more")
        return -value
    return value


def parse_whole(text: str, *, signed: bool = False) -> int:
    """A whole number; raises LengthError."""
    value = parse_fraction(text, signed=signed)
    if value.denominator != 1:
        raise LengthError(f"{quoted(text)} is not a whole number", "write a whole number such as 3")
    return int(value)


def parse_share(text: str) -> Fraction:
    """A share such as ``3 %`` as 3/100; a bare number other than 0 is refused, for 0.5 may mean 0.5 % or a half."""
    bare = text.strip()
    if bare.endswith("%"):
        return parse_fraction(bare[:-1]) / 100
    value = parse_fraction(bare)
    if value:
        raise LengthError(f"{quoted(text)} has no percent sign", f"write {bare} % if that is what is meant")
    return value


def counted(count: int | Fraction, one: str) -> str:
    """So many of something, in words that agree: "1 whole column", "2 1/2 cuts"; ``one`` takes an s for more."""
    return f"{show_number(Fraction(count))} {one}{'' if 0 < count <= 1 else 's'}"


def show_number(value: Fraction) -> str:
    """The number as whole and fraction: ``67 1/2``, ``-1/4``, ``3``."""
    sign, size = ("-" if value < 0 else ""), abs(value)
    whole, part = divmod(size, 1)
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def show_share(value: Fraction) -> str:
    """The share in percent, to at most two decimals: ``3 %``, ``2.5 %``."""
    return f"{float(round(value * 100, 2)):g} %"


SIMPLE_DROPS = tuple(Fraction(part) for part in ("0", "1/4", "1/3", "1/2", "2/3", "3/4"))
DROP_WITHIN = 0.01
"""Of a repeat: a measured drop so near to a simple one is that one; cloth is not printed with others on purpose."""


def simple_drop(drop: float, doubt: float = 0.0) -> Fraction | None:
    """The simple share of the repeat, in [0, 1), that a measured drop is; None where it is near to none.

    ``doubt`` is by how much it may be off, where that is more than ``DROP_WITHIN``.
    """
    near = min(SIMPLE_DROPS, key=lambda simple: abs((drop - float(simple) + 0.5) % 1 - 0.5))
    apart = abs((drop - float(near) + 0.5) % 1 - 0.5)
    return near if apart <= max(DROP_WITHIN, doubt) else None
