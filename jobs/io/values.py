"""Readers of single values: each takes a node and gives its value, or notes the problem and raises ``Unusable``."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from jobs.io.log import Log, Unusable
from jobs.io.nodes import Node, Scalar, Sequence, Spoilt
from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_fraction, parse_length, parse_share, parse_whole
from jobs.model.problems import Code, Path, Problem

T = TypeVar("T")
Word = TypeVar("Word", bound=StrEnum)
Reader = Callable[[Node, Path, Log], T]

LONGEST_NAME = 120
_COLOUR = re.compile("#[0-9a-fA-F]{6}")
_HIDDEN = ("Cc", "Cf", "Cs", "Co", "Cn")
_JOINERS = "\u200c\u200d"


def written(node: Node, path: Path, log: Log, kind: str) -> str:
    """The text of a single value; refuses lists, mappings and an empty value. ``kind`` names what belongs here."""
    if isinstance(node, Spoilt):
        raise Unusable
    if not isinstance(node, Scalar):
        raise log.refuse(node.place, path, Code.SINGLE_VALUE_BELONGS_HERE, kind=kind)
    if not node.text.strip():
        raise log.refuse(node.place, path, Code.NOTHING_WRITTEN, kind=kind)
    return node.text


def text(node: Node, path: Path, log: Log) -> str:
    """A name or title on one line, runs of white space made single."""
    value = " ".join(unicodedata.normalize("NFC", written(node, path, log, "name")).split())
    if len(value) > LONGEST_NAME:
        raise log.refuse(node.place, path, Code.NAME_TOO_LONG, most=LONGEST_NAME)
    if any(unicodedata.category(c) in _HIDDEN and c not in _JOINERS for c in value):
        raise log.refuse(node.place, path, Code.HIDDEN_CHARACTERS, text=value)
    return value


def yes_no(node: Node, path: Path, log: Log) -> bool:
    """``yes`` or ``no`` (``true`` and ``false`` are taken too)."""
    value = written(node, path, log, "yes or no")
    known = {"yes": True, "true": True, "no": False, "false": False}
    if value.strip().casefold() not in known:
        raise log.refuse(node.place, path, Code.NOT_YES_OR_NO, text=value)
    return known[value.strip().casefold()]


def choice(words: type[Word]) -> Reader[Word]:
    """One of the words of an enumeration."""
    known = tuple(member.value for member in words)

    def read(node: Node, path: Path, log: Log) -> Word:
        value = " ".join(written(node, path, log, "word").split())
        if value not in known:
            from difflib import get_close_matches  # for what is refused

            near = get_close_matches(value, known, 1) if len(value) > 2 else []
            raise log.refuse(node.place, path, Code.NOT_A_WORD, text=value, words=known, near=near[0] if near else None)
        return words(value)

    return read


def _number(parse: Callable[[str], T], kind: str) -> Reader[T]:
    def read(node: Node, path: Path, log: Log) -> T:
        try:
            return parse(written(node, path, log, kind))
        except LengthError as error:
            raise log.note(node.place, Problem(path, error.problem.code, error.problem.values)) from None

    return read


def length(unit: Unit, *, above_zero: bool = False, signed: bool = False) -> Reader[Fraction]:
    """A length in inches; a bare number is in ``unit``."""
    plain = _number(lambda value: parse_length(value, unit, signed=signed), "length")

    def read(node: Node, path: Path, log: Log) -> Fraction:
        value = plain(node, path, log)
        if above_zero and value <= 0:
            raise log.refuse(node.place, path, Code.MUST_BE_ABOVE_ZERO)
        return value

    return read


share: Reader[Fraction] = _number(parse_share, "share")
fraction: Reader[Fraction] = _number(parse_fraction, "number")
whole: Reader[int] = _number(lambda value: parse_whole(value, signed=True), "count")


def within(
    read_value: Reader[Fraction], least: Fraction | int, most: Fraction | int, *, below: bool = False
) -> Reader[Fraction]:
    """A number from ``least`` to ``most`` (``below``: not ``most`` itself)."""

    def read(node: Node, path: Path, log: Log) -> Fraction:
        value = read_value(node, path, log)
        if not least <= value <= most or (below and value == most):
            raise _out_of_bounds(node, path, log, value, least, most, below=below)
        return value

    return read


def count(least: int, most: int) -> Reader[int]:
    """A whole number from ``least`` to ``most``."""

    def read(node: Node, path: Path, log: Log) -> int:
        value = whole(node, path, log)
        if not least <= value <= most:
            raise _out_of_bounds(node, path, log, Fraction(value), least, most, below=False)
        return value

    return read


def _out_of_bounds(
    node: Node, path: Path, log: Log, value: Fraction, least: Fraction | int, most: Fraction | int, *, below: bool
) -> Unusable:
    bounds = {"least": Fraction(least), "most": Fraction(most)}
    return log.refuse(node.place, path, Code.OUT_OF_BOUNDS, value=value, below=int(below), **bounds)


def colour(node: Node, path: Path, log: Log) -> str:
    """A colour written ``"#rrggbb"``."""
    if isinstance(node, Scalar) and node.plain and not node.text:
        raise log.refuse(node.place, path, Code.COLOUR_IS_A_REMARK)
    value = written(node, path, log, "colour")
    if not _COLOUR.fullmatch(value.strip()):
        raise log.refuse(node.place, path, Code.NOT_A_COLOUR, text=value)
    return value.strip().lower()


def list_of(read_item: Reader[T], *, least: int = 0, thing: str = "item") -> Reader[tuple[T, ...]]:
    """A list; every item is read, so that all its problems are noted."""

    def read(node: Node, path: Path, log: Log) -> tuple[T, ...]:
        if isinstance(node, Spoilt):
            raise Unusable
        if not isinstance(node, Sequence):
            raise log.refuse(node.place, path, Code.LIST_BELONGS_HERE, thing=thing)
        if len(node.items) < least:
            raise log.refuse(node.place, path, Code.LIST_TOO_SHORT, count=len(node.items), least=least, thing=thing)
        values = []
        for number, item in enumerate(node.items):
            try:
                values.append(read_item(item, (*path, number), log))
            except Unusable:
                continue
        if len(values) < len(node.items):
            raise Unusable
        return tuple(values)

    return read


def pair_of(read_item: Reader[T]) -> Reader[tuple[T, T]]:
    """A list of exactly two, such as ``[10, 14]``."""
    plain = list_of(read_item)

    def read(node: Node, path: Path, log: Log) -> tuple[T, T]:
        if isinstance(node, Sequence) and len(node.items) != 2:
            raise log.refuse(node.place, path, Code.NOT_TWO, count=len(node.items))
        first, second = plain(node, path, log)
        return first, second

    return read
