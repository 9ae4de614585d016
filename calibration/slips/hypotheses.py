"""Every simple slip that could have made a set of marks out of the one that was meant, with how likely it is.

A slip is a fault of typing or of reading, not of the hand: digits exchanged, a digit wrong, dropped or doubled, the
decimal sign, a minus, a fraction or a whole inch miscounted, the fraction read from the wrong side, inches where
centimetres were meant, the two numbers of a mark exchanged, two marks exchanged, marks entered in another order.
How often each happens is a setting (no source); what matters is that all are weighed on one scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations, pairwise, permutations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SLIPS_IN_ALL = 0.1
"""In how many calibrations something is mistyped, misread or exchanged."""
SHARES = {
    "digit": 0.18,
    "exchanged digits": 0.08,
    "dropped digit": 0.08,
    "added digit": 0.05,
    "decimal sign": 0.06,
    "minus": 0.07,
    "fraction": 0.10,
    "miscounted": 0.12,
    "wrong side": 0.04,
    "half": 0.03,
    "unit": 0.04,
    "both in another unit": 0.04,
    "exchanged numbers": 0.08,
    "one number wrong": 0.10,
    "mark wrong": 0.06,
    "two marks exchanged": 0.04,
    "another order": 0.03,
}
"""Which slip it is, once there is one; they sum to 1, but for rounding."""
CM = 2.54
FRACTIONS = tuple(sign * value for value in (0.5, 0.25, 0.75, 0.125, 0.375) for sign in (1, -1))
COUNTS = (1.0, -1.0, 2.0, -2.0, 12.0, -12.0)
SMALLEST, LARGEST = 0.05, 200.0
"""An unexplained wrong number is off by anything between these, each doubling alike (inches or what was typed)."""


@dataclass(frozen=True)
class Slip:
    """One hypothesis: marks as they were meant, or what is known of them no longer.

    ``marks`` are the indices it speaks of, ``meant`` (K, 2) their numbers as they were meant, ``unknown`` (K, 2) which
    of these numbers are not known at all. ``chance`` is how often it happens, ``kind`` a key of ``SHARES``.
    """

    kind: str
    marks: tuple[int, ...]
    meant: Array = field(compare=False)
    unknown: NDArray[np.bool_] = field(compare=False)
    chance: float

    @property
    def is_known(self) -> bool:
        """Whether it tells what was meant."""
        return not self.unknown.any()


def slips_of(places: Array, suspects: Sequence[int]) -> list[Slip]:
    """Every slip of one or two of the ``suspects`` (indices), or of the order; ``places`` (N, 2) are as typed."""
    each = SLIPS_IN_ALL / len(places)
    found: list[Slip] = []
    for index in suspects:
        found += [
            Slip(kind, (index,), np.array([meant]), _NONE, each * SHARES[kind] * chance)
            for kind, meant, chance in _misread_pairs((float(places[index, 0]), float(places[index, 1])))
        ]
        for unknown, kind, chance in (
            ((True, False), "one number wrong", 0.5),
            ((False, True), "one number wrong", 0.5),
            ((True, True), "mark wrong", 1.0),
        ):
            found.append(Slip(kind, (index,), places[[index]], np.array([unknown]), each * SHARES[kind] * chance))
    return found + _exchanges(places, suspects)


_NONE = np.zeros((1, 2), dtype=bool)


def _exchanges(places: Array, suspects: Sequence[int]) -> list[Slip]:
    """Marks that were taken for each other."""
    pairs = list(combinations(suspects, 2))
    swaps = [_moved("two marks exchanged", pair, pair[::-1], places, 1 / max(len(pairs), 1)) for pair in pairs]
    if len(places) <= 5:
        orders = list(permutations(range(len(places))))
    else:
        run = list(range(len(places)))
        orders = [tuple(run[start:] + run[:start]) for start in range(1, len(run))]
        orders += [tuple(order[::-1]) for order in [tuple(run), *orders]]
        for trio in combinations(suspects, 3) if len(suspects) <= 12 else ():
            for turn in ((1, 2, 0), (2, 0, 1)):
                order = run.copy()
                for place, source in enumerate(turn):
                    order[trio[place]] = trio[source]
                orders.append(tuple(order))
    moved = [tuple(index for index, source in enumerate(order) if index != source) for order in orders]
    ordered = [
        _moved("another order", marks, tuple(order[index] for index in marks), places, 1 / len(orders))
        for marks, order in zip(moved, orders, strict=True)
        if len(marks) > 2
    ]
    return swaps + ordered


def _moved(kind: str, marks: tuple[int, ...], sources: tuple[int, ...], places: Array, chance: float) -> Slip:
    return Slip(
        kind, marks, places[list(sources)], np.zeros((len(marks), 2), dtype=bool), SLIPS_IN_ALL * SHARES[kind] * chance
    )


def _misread_pairs(pair: tuple[float, float]) -> Iterator[tuple[str, tuple[float, float], float]]:
    """What was meant by a pair of numbers, with the kind of slip and its share of that kind."""
    first, second = pair
    if first != second:
        yield "exchanged numbers", (second, first), 1.0
    for factor in (CM, 1 / CM):
        yield "both in another unit", (first * factor, second * factor), 0.5
    for kind, value, chance in _misread(first):
        yield kind, (value, second), chance / 2
    for kind, value, chance in _misread(second):
        yield kind, (first, value), chance / 2


def _misread(value: float) -> Iterator[tuple[str, float, float]]:
    """Numbers that one slip turns into ``value``: its kind, the number meant, the slip's share of its kind."""
    if value:
        yield "minus", -value, 1.0
        yield from (("unit", value * factor, 0.5) for factor in (CM, 1 / CM))
        yield from (
            ("decimal sign", value * factor, share)
            for factor, share in ((10, 0.4), (0.1, 0.4), (100, 0.1), (0.01, 0.1))
        )
        yield from (("half", value * factor, 0.5) for factor in (2, 0.5))
    yield from (("fraction", value + step, 1 / len(FRACTIONS)) for step in FRACTIONS)
    yield from (
        ("miscounted", value + step, share) for step, share in zip(COUNTS, (0.3, 0.3, 0.1, 0.1, 0.1, 0.1), strict=True)
    )
    if value != math.floor(value):
        yield from (("wrong side", 2 * whole - value, 0.5) for whole in (math.floor(value), math.ceil(value)))
    yield from _misread_digits(value)


def _misread_digits(value: float) -> Iterator[tuple[str, float, float]]:
    text = f"{abs(value):.4f}".rstrip("0").rstrip(".")
    sign = -1.0 if value < 0 else 1.0
    places = [place for place, letter in enumerate(text) if letter.isdigit()]
    if "." in text and len(text) - text.index(".") > 3:
        # More decimals than a person types: a fraction, whose digits nobody exchanges.
        places = [place for place in places if place < text.index(".")]
    count = len(places)
    for place, following in pairwise(places):
        if text[place] != text[following]:
            letters = list(text)
            letters[place], letters[following] = letters[following], letters[place]
            yield "exchanged digits", sign * float("".join(letters)), 1 / max(count - 1, 1)
    for place in places:
        for digit in "0123456789":
            if digit != text[place]:
                near = abs(int(digit) - int(text[place])) == 1
                meant = sign * float(text[:place] + digit + text[place + 1 :])
                yield "digit", meant, (0.2 if near else 0.6 / 8) / count
            meant = sign * float(text[:place] + digit + text[place:])
            yield "dropped digit", meant, 1 / (count + 1) / (2 if digit in "0" + text else 1)
        if count > 1:
            yield "added digit", sign * float((text[:place] + text[place + 1 :]).strip(".") or "0"), 1 / count / 3
    if "." not in text:
        for digit in "0123456789":
            yield "dropped digit", sign * float(text + digit), 1 / (count + 1)
