"""Exact numbers from what a person writes: ``11 1/4``, ``67-1/2``, ``11.25``, ``½``, ``3 %``."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from jobs.model.problems import Code, Value, problem

LONGEST_TEXT = 60
LARGEST = 1_000_000

NUMBER = (
    r"(?:(?:(?P<whole>[0-9]+)(?:[ ]+|-))?(?P<over>[0-9]+)[ ]?/[ ]?(?P<under>[0-9]+)|(?P<point>[0-9]*\.[0-9]+|[0-9]+))"
)
_ALONE = re.compile(rf"(?P<sign>[+-]?)[ ]?{NUMBER}(?P<rest>.*)", re.DOTALL)
_DECIMAL_COMMA = re.compile(r"(?<![0-9,])([0-9]+),([0-9]{1,2}|[0-9]{4,})(?![0-9,])")
_LOOKALIKES = str.maketrans({"⁄": "/", "∕": "/", "−": "-", "‐": "-", "‑": "-", "–": "-", "\u00a0": " ", "\u202f": " "})


class LengthError(ValueError):
    """A number or length that has no meaning here, as a ``problem`` without a place."""

    def __init__(self, code: Code, **values: Value) -> None:
        super().__init__(code)
        self.problem = problem((), code, **values)


def quoted(text: str, longest: int = 40) -> str:
    """The text in quotes on one line, shortened, with whatever cannot be printed written as an escape."""
    short = text if len(text) <= longest else text[: longest - 3] + "..."
    return '"' + "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in short) + '"'


def tidy(text: str, kind: str) -> str:
    """The text with fraction characters and dashes in their plain form; refuses what cannot be a number at all.

    ``kind`` is ``length`` or ``number``: what the text was to be.
    """
    if len(text) > LONGEST_TEXT:
        raise LengthError(Code.TEXT_TOO_LONG, text=text, kind=kind)
    spread = "".join(
        " " + unicodedata.normalize("NFKC", c) if "VULGAR FRACTION" in unicodedata.name(c, "") else c for c in text
    )
    plain = " ".join(spread.translate(_LOOKALIKES).split())
    if not plain:
        raise LengthError(Code.NOTHING_WRITTEN, kind=kind)
    if "," in plain:
        mended = _DECIMAL_COMMA.sub(r"\1.\2", plain)
        better = mended if "," not in mended and mended.isprintable() else None
        raise LengthError(Code.COMMA, text=text, better=better, kind=kind)
    return plain


def value_of(match: re.Match[str]) -> Fraction:
    """The exact value of a match of ``NUMBER``; refuses a zero divisor and a mixed number such as 11 5/4."""
    if match["point"] is not None:
        return Fraction(match["point"])
    over, under = int(match["over"]), int(match["under"])
    if under == 0:
        raise LengthError(Code.DIVIDES_BY_NOTHING, over=over)
    part = Fraction(over, under)
    if match["whole"] is None:
        return part
    if part >= 1:
        text = f"{match['whole']} {over}/{under}"
        raise LengthError(Code.IMPROPER, text=text, meant=int(match["whole"]) + part)
    return int(match["whole"]) + part


def parse_fraction(text: str, *, signed: bool = False) -> Fraction:
    """A bare number such as ``1/2``, ``2 1/2`` or ``2.5``; raises LengthError."""
    plain = tidy(text, "number")
    match = _ALONE.fullmatch(plain)
    if match is None or match["rest"]:
        raise LengthError(Code.NOT_A_NUMBER, text=text)
    value = value_of(match)
    if value > LARGEST:
        raise LengthError(Code.TOO_LARGE, text=text)
    if match["sign"] == "-" and value:
        if not signed:
            raise LengthError(Code.BELOW_ZERO, text=text)
        return -value
    return value


def parse_whole(text: str, *, signed: bool = False) -> int:
    """A whole number; raises LengthError."""
    value = parse_fraction(text, signed=signed)
    if value.denominator != 1:
        raise LengthError(Code.NOT_WHOLE, text=text)
    return int(value)


def parse_share(text: str) -> Fraction:
    """A share such as ``3 %`` as 3/100; a bare number other than 0 is refused, for 0.5 may mean 0.5 % or a half."""
    bare = text.strip()
    if bare.endswith("%"):
        return parse_fraction(bare[:-1]) / 100
    value = parse_fraction(bare)
    if value:
        raise LengthError(Code.NO_PERCENT, text=text, bare=bare)
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
