"""Readers of what the files share: numbers, pixels, places on the table."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path as FilePath
from typing import TypeVar

from calibration.height import LensPosition
from calibration.marks import CAREFUL, Placing
from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log, Unusable
from jobs.io.nodes import Node, Scalar, parse
from jobs.io.source import read_text
from jobs.model.choices import Unit
from jobs.model.lengths import parse_length
from jobs.model.problems import Code, Path
from projector.files.codes import FileCode
from projector.files.decimal_comma import with_point

T = TypeVar("T")

SMALLEST_FRAME, LARGEST_FRAME = 16, 20_000
LARGEST = 1e6
"""Beyond this many pixels or inches a number is a slip."""

_DECIMAL = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,4})?")
_LONGEST_DECIMAL = 60
"""One comma, no point, no fraction, and not three digits after it, which could be thousands (unless after a nought)."""


def read_file(path: FilePath, read_root: Callable[[Fields, Log], T]) -> T:
    """Read a file of keys strictly: every problem is found, then FileRefused is raised."""
    log = Log(str(path))
    try:
        fields = Fields(parse(read_text(path), log), (), log)
        value = read_root(fields, log)
    except Unusable:
        raise log.all() from None
    log.raise_if_any()
    return value


def _decimal(text: str, largest: float = LARGEST) -> float | None:
    """A decimal with or without an exponent, as programs write floats; None when it is none or is not bounded."""
    bare = text.strip()
    if len(bare) > _LONGEST_DECIMAL or not _DECIMAL.fullmatch(bare):
        return None
    value = float(bare)
    return value if abs(value) <= largest else None


def number_to(largest: float) -> values.Reader[float]:
    """A number such as 212.5 or 1e-05, no larger than ``largest`` either way."""

    def read(node: Node, path: Path, log: Log) -> float:
        text = values.written(node, path, log, "pixels")
        value = _decimal(text, largest)
        if value is None:
            raise log.refuse(node.place, path, FileCode.NOT_USABLE, text=text)
        return value

    return read


number = number_to(LARGEST)


def not_below_zero(node: Node, path: Path, log: Log) -> float:
    """A finite number of zero or more."""
    value = number(node, path, log)
    if value < 0:
        raise log.refuse(node.place, path, FileCode.NUMBER_BELOW_ZERO)
    return value


def inches(unit: Unit, *, above_zero: bool = False, signed: bool = False) -> values.Reader[float]:
    """A length as a float in inches, also where a program wrote it with an exponent."""
    exact = values.length(unit, above_zero=above_zero, signed=signed)

    def read(node: Node, path: Path, log: Log) -> float:
        text = values.written(node, path, log, "length")
        if with_point(text) != text and isinstance(node, Scalar):
            return float(exact(replace(node, text=with_point(text)), path, log))
        value = _decimal(text) if "e" in text or "E" in text else None
        if value is None or (value < 0 and not signed) or (value == 0 and above_zero):
            return float(exact(node, path, log))
        return float(Fraction(text.strip()) * parse_length("1", unit))

    return read


def place(unit: Unit) -> values.Reader[tuple[float, float]]:
    """A place on the table, ``[x, y]``, as floats in inches."""
    return values.pair_of(inches(unit, signed=True))


pixel: values.Reader[tuple[float, float]] = values.pair_of(number)


def units(fields: Fields) -> Unit:
    """The unit of bare numbers; inches when the key is left out."""
    return fields.take("units", values.choice(Unit), Unit.INCH)


def gamma(node: Node, path: Path, log: Log) -> float:
    """The projector's gamma, 1 to 4."""
    value = number(node, path, log)
    if not 1 <= value <= 4:
        bounds = {"value": Fraction(value).limit_denominator(1000), "least": Fraction(1), "most": Fraction(4)}
        raise log.refuse(node.place, path, Code.OUT_OF_BOUNDS, below=0, **bounds)
    return value


def frame(node: Node, path: Path, log: Log) -> tuple[int, int, float]:
    """The projector: width and height in pixels, and gamma."""
    fields = Fields(node, path, log)
    side = values.count(SMALLEST_FRAME, LARGEST_FRAME)
    read = fields.need("width", side, 0), fields.need("height", side, 0), fields.take("gamma", gamma, 2.2)
    fields.close()
    return fields.whole(read)


def lens_position(unit: Unit) -> values.Reader[LensPosition | None]:
    """Where the lens is: ``{height: 96, foot: [36, 0]}``."""

    def read(node: Node, path: Path, log: Log) -> LensPosition | None:
        fields = Fields(node, path, log)
        height = fields.need("height", inches(unit, above_zero=True), 1.0)
        foot = fields.need("foot", place(unit), (0.0, 0.0))
        fields.close()
        return fields.whole(LensPosition(foot, height))

    return read


def placing(unit: Unit) -> values.Reader[Placing]:
    """How well marks were placed: ``{tape: 1/32, pointing: 1/4}``, inches on the table and pixels."""

    def read(node: Node, path: Path, log: Log) -> Placing:
        fields = Fields(node, path, log)
        tape = fields.take("tape", inches(unit), CAREFUL.tape_in)
        pointing = fields.take("pointing", _fraction_px, CAREFUL.pointing_px)
        fields.close()
        if tape == 0 and pointing == 0:
            raise log.refuse(node.place, path, FileCode.NO_ERROR_AT_ALL)
        return fields.whole(Placing(tape, pointing))

    return read


def _fraction_px(node: Node, path: Path, log: Log) -> float:
    text = values.written(node, path, log, "pixels")
    return float(values.fraction(node, path, log)) if _decimal(text) is None else not_below_zero(node, path, log)
