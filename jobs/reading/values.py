"""Readers of single values: each takes a node and gives its value, or notes the problem and raises ``Refused``."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Callable
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from jobs.job import Unit
from jobs.lengths import LengthError, parse_fraction, parse_length, parse_share, parse_whole
from jobs.numbers import quoted, show_number
from jobs.reading.nodes import Node, Scalar, Sequence, Unusable
from jobs.reading.problems import Log, Refused

T = TypeVar("T")
Choice = TypeVar("Choice", bound=StrEnum)
Reader = Callable[[Node, str, Log], T]

LONGEST_NAME = 120
_COLOUR = re.compile("#[0-9a-fA-F]{6}")
_HIDDEN = ("Cc", "Cf", "Cs", "Co", "Cn")
_JOINERS = "\u200c\u200d"


def written(node: Node, where: str, log: Log, wanted: str) -> str:
    """The text of a single value; refuses lists, mappings and an empty value. ``wanted`` says what belongs here."""
    if isinstance(node, Unusable):
        raise Refused
    if not isinstance(node, Scalar):
        raise log.refuse(node.place, where, "a single value belongs here", f"write {wanted}")
    if not node.text.strip():
        raise log.refuse(node.place, where, "nothing is written here", f"write {wanted} or leave the key out")
    return node.text


def text(node: Node, where: str, log: Log) -> str:
    """A name or title on one line, runs of white space made single."""
    value = " ".join(unicodedata.normalize("NFC", written(node, where, log, "a few words")).split())
    if len(value) > LONGEST_NAME:
        raise log.refuse(node.place, where, "this name is too long", f"use at most {LONGEST_NAME} characters")
    if any(unicodedata.category(c) in _HIDDEN and c not in _JOINERS for c in value):
        raise log.refuse(node.place, where, f"{quoted(value)} holds hidden characters", "type it anew")
    return value


def yes_no(node: Node, where: str, log: Log) -> bool:
    """``yes`` or ``no`` (``true`` and ``false`` are taken too)."""
    value = written(node, where, log, "yes or no")
    known = {"yes": True, "true": True, "no": False, "false": False}
    if value.strip().casefold() not in known:
        raise log.refuse(node.place, where, f"{quoted(value)} is neither yes nor no", "write yes or no")
    return known[value.strip().casefold()]


def choice(kind: type[Choice]) -> Reader[Choice]:
    """One of the words of an enumeration."""
    words = [member.value for member in kind]
    listed = ", ".join(words[:-1]) + f" or {words[-1]}"

    def read(node: Node, where: str, log: Log) -> Choice:
        value = " ".join(written(node, where, log, listed).split())
        if value not in words:
            near = difflib.get_close_matches(value, words, 1) if len(value) > 2 else []
            advice = f"write {near[0]} if that is meant ({listed})" if near else f"write {listed}"
            raise log.refuse(node.place, where, f"{quoted(value)} is not one of the words known here", advice)
        return kind(value)

    return read


def _number(parse: Callable[[str], T], wanted: str) -> Reader[T]:
    def read(node: Node, where: str, log: Log) -> T:
        try:
            return parse(written(node, where, log, wanted))
        except LengthError as error:
            raise log.refuse(node.place, where, error.what, error.advice) from None

    return read


def length(unit: Unit, *, above_zero: bool = False, signed: bool = False) -> Reader[Fraction]:
    """A length in inches; a bare number is in ``unit``."""
    plain = _number(lambda value: parse_length(value, unit, signed=signed), "a length such as 84 or 28.6 cm")

    def read(node: Node, where: str, log: Log) -> Fraction:
        value = plain(node, where, log)
        if above_zero and value <= 0:
            raise log.refuse(node.place, where, "this length must be above zero", "write the length that was measured")
        return value

    return read


share: Reader[Fraction] = _number(parse_share, "a share such as 3 %")
fraction: Reader[Fraction] = _number(parse_fraction, "a number such as 1/2 or 2.5")
whole: Reader[int] = _number(lambda value: parse_whole(value, signed=True), "a whole number such as 3")


def within(
    read_value: Reader[Fraction], least: Fraction | int, most: Fraction | int, *, below: bool = False
) -> Reader[Fraction]:
    """A number from ``least`` to ``most`` (``below``: not ``most`` itself)."""

    def read(node: Node, where: str, log: Log) -> Fraction:
        value = read_value(node, where, log)
        if not least <= value <= most or (below and value == most):
            bounds = f"{show_number(Fraction(least))} to {'below ' if below else ''}{show_number(Fraction(most))}"
            what = f"{show_number(value)} is out of bounds here"
            raise log.refuse(node.place, where, what, f"write a number from {bounds}")
        return value

    return read


def colour(node: Node, where: str, log: Log) -> str:
    """A colour written ``"#rrggbb"``."""
    if isinstance(node, Scalar) and node.plain and not node.text:
        raise log.refuse(node.place, where, "no colour is read here", 'put it in quotes, such as "#8d8f92"')
    value = written(node, where, log, 'a colour such as "#8d8f92"')
    if not _COLOUR.fullmatch(value.strip()):
        advice = 'write # and six digits 0-9 a-f in quotes, such as "#8d8f92"'
        raise log.refuse(node.place, where, f"{quoted(value)} is not a colour", advice)
    return value.strip().lower()


def list_of(read_item: Reader[T], *, least: int = 0, thing: str = "item") -> Reader[tuple[T, ...]]:
    """A list; every item is read, so that all its problems are noted."""

    def read(node: Node, where: str, log: Log) -> tuple[T, ...]:
        if isinstance(node, Unusable):
            raise Refused
        if not isinstance(node, Sequence):
            advice = f"write each {thing} on its own line after a dash, or in [ ]"
            raise log.refuse(node.place, where, "a list belongs here", advice)
        if len(node.items) < least:
            needed = f"at least {least}" if least > 1 else "one or more"
            raise log.refuse(node.place, where, f"the list has {len(node.items)} in it", f"give {needed}")
        values = []
        for number, item in enumerate(node.items, 1):
            try:
                values.append(read_item(item, f"{where} {number}", log))
            except Refused:
                continue
        if len(values) < len(node.items):
            raise Refused
        return tuple(values)

    return read


def pair_of(read_item: Reader[T]) -> Reader[tuple[T, T]]:
    """A list of exactly two, such as ``[10, 14]``."""
    plain = list_of(read_item)

    def read(node: Node, where: str, log: Log) -> tuple[T, T]:
        if isinstance(node, Sequence) and len(node.items) != 2:
            raise log.refuse(node.place, where, f"two values belong here, not {len(node.items)}", "write [10, 14]")
        first, second = plain(node, where, log)
        return first, second

    return read
