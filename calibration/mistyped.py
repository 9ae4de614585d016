"""A mistyped mark among five or more: named by its left-out error, with the slip that explains it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from calibration.homography import OriginOnHorizon
from calibration.marks import Mark, MarksRefused
from calibration.placing import CAREFUL, Placing
from calibration.quantiles import squares_tail
from calibration.reach import OutOfReach
from calibration.table import Table, fit_table
from calibration.uncertainty import Uncertainty

SUSPECT = 0.001
"""Marks are looked into when honest placing would leave them so far apart in no more than this share of fits."""
EXPLAINED = 0.01
LEAST_MISS_IN = 0.25
"""A mark this near to where it belongs was not mistyped: it was placed badly, or the light bends."""


@dataclass(frozen=True)
class Slip:
    """One way of mistyping that explains a mark: ``mark`` as it was probably meant, and the slip in words.

    ``rank`` 0 is the likeliest slip (inches swapped), 3 the least likely one.
    """

    mark: Mark
    what: str
    rank: int


@dataclass(frozen=True)
class Mistyped:
    """The mark ``number`` (from 1) that does not go with the others, which want it at ``expected_in``.

    ``missed_in`` is how far it is from there; ``slip`` is None when no simple slip explains it: measure it again.
    ``sure`` is false when another mark could be the wrong one just as well.
    """

    number: int
    missed_in: float
    expected_in: tuple[float, float]
    slip: Slip | None
    sure: bool

    def sentence(self) -> str:
        """The finding in words."""
        where = f"({self.expected_in[0]:.2f}, {self.expected_in[1]:.2f})"
        start = f"Mark {self.number} does not go with the others: they want it near {where} in"
        if self.slip is None:
            return (
                f"{start}. Measure it once more."
                if self.sure
                else f"{start}; or another mark is wrong. Measure all again."
            )
        return f"{start}. {self.slip.what}?"


@dataclass(frozen=True)
class _Trial:
    """What does not change while marks are tried: the projector's frame and how well marks are placed."""

    width_px: int
    height_px: int
    placing: Placing


@dataclass(frozen=True)
class _LeftOut:
    number: int
    rest: Uncertainty
    rest_chance: float
    missed_in: float
    expected_in: tuple[float, float]
    mark: Mark


def find_mistyped(marks: Sequence[Mark], width_px: int, height_px: int, placing: Placing = CAREFUL) -> Mistyped | None:
    """The mark that was probably mistyped, or None when the marks go together or are fewer than five.

    Each mark is left out in turn and held against the fit of the others. Where the others alone make no map, the slips
    themselves are tried in the whole set. Works on marks that ``check_marks`` refuses.
    """
    frame = _Trial(width_px, height_px, placing)
    if len(marks) < 5 or _chance(marks, frame) >= SUSPECT:
        return None
    judged = list(_left_out(marks, frame))
    fitting = [one for one in judged if one.missed_in >= LEAST_MISS_IN and one.rest_chance >= EXPLAINED]
    found = [Mistyped(one.number, one.missed_in, one.expected_in, _slip(one, frame), False) for one in fitting]
    unjudged = set(range(1, len(marks) + 1)) - {one.number for one in judged}
    found += [named for number in sorted(unjudged) if (named := _slip_in_all(marks, number, frame))]
    explained = [one for one in found if one.slip is not None]
    if explained:
        best = min(explained, key=lambda one: (one.slip.rank if one.slip else 9, -one.missed_in))
        return replace(best, sure=len(explained) == 1)
    if not found:
        return None
    # Of five marks any four agree, so without a slip to tell nobody knows which one is wrong.
    alone = len(found) == 1 and len(marks) > 5 and not unjudged
    return replace(max(found, key=lambda one: one.missed_in), sure=alone)


def _fitted(marks: Sequence[Mark], frame: _Trial) -> Table | None:
    try:
        return fit_table(marks, frame.width_px, frame.height_px, placing=frame.placing, look_for_lens=False)
    except (MarksRefused, OriginOnHorizon, ArithmeticError):
        return None


def _chance(marks: Sequence[Mark], frame: _Trial) -> float:
    """Chance that honest placing leaves five or more marks so far apart; 0 when no map goes through them."""
    table = _fitted(marks, frame)
    if table is None:
        return 0.0
    made = Uncertainty(table, scale=1.0)
    return squares_tail(made.squares, made.freedom)


def _left_out(marks: Sequence[Mark], frame: _Trial) -> Iterator[_LeftOut]:
    for index, mark in enumerate(marks):
        table = _fitted([*marks[:index], *marks[index + 1 :]], frame)
        if table is None:
            continue
        rest = Uncertainty(table, scale=1.0)
        chance = squares_tail(rest.squares, rest.freedom) if rest.freedom > 0 else 1.0
        try:
            x, y = table.to_table([mark.pixel])[0].tolist()
        except OutOfReach:
            continue
        missed = float(np.hypot(x - mark.table[0], y - mark.table[1]))
        yield _LeftOut(index + 1, rest, chance, missed, (x, y), mark)


def _slip(left: _LeftOut, frame: _Trial) -> Slip | None:
    """The likeliest slip that brings the mark where the others want it, as near as honest placing allows."""
    best: tuple[tuple[int, float], Slip] | None = None
    for slip in _slips(left.mark, frame):
        try:
            rank = (slip.rank, _square(left.rest, slip.mark))
        except OutOfReach:
            continue
        if squares_tail(rank[1], 2) >= EXPLAINED and (best is None or rank < best[0]):
            best = rank, slip
    return best[1] if best else None


def _slip_in_all(marks: Sequence[Mark], number: int, frame: _Trial) -> Mistyped | None:
    """The likeliest slip in mark ``number`` (from 1) that makes all the marks go together."""
    mark = marks[number - 1]
    for slip in sorted(_slips(mark, frame), key=lambda one: one.rank):
        if slip.rank > 2:
            break
        missed = float(np.hypot(*np.subtract(slip.mark.table, mark.table)))
        if _chance([*marks[: number - 1], slip.mark, *marks[number:]], frame) >= EXPLAINED:
            return Mistyped(number, missed, slip.mark.table, slip, False)
    return None


def _square(rest: Uncertainty, mark: Mark) -> float:
    """Weighted squared distance of a mark from the fit of the others: a chi-square of two if it belongs to them."""
    lit = rest.table.to_table([mark.pixel])
    back = np.linalg.inv(rest.table.jacobian(lit))
    spread = rest.covariance_in(lit) + back @ rest.placing_covariance_px(lit) @ back.transpose(0, 2, 1)
    missed = lit[0] - mark.table
    return float(missed @ np.linalg.solve(spread[0], missed))


def _slips(mark: Mark, frame: _Trial) -> Iterator[Slip]:
    """Simple slips that could have made this mark out of the one that was meant."""
    for first, second, what, rank in _pairs(mark.table):
        yield Slip(replace(mark, table=(first, second)), what, rank)
    u, v = mark.pixel
    if (
        u != v and u <= frame.height_px and v <= frame.width_px
    ):  # other slips of pixels are rare: the light was moved there
        yield Slip(replace(mark, pixel=(v, u)), f"Were its pixels swapped, and should be ({v:g}, {u:g})", 2)


def _pairs(pair: tuple[float, float]) -> Iterator[tuple[float, float, str, int]]:
    first, second = pair
    if first != second:
        yield second, first, f"Were its inches swapped, and should be ({second:g}, {first:g})", 0
    for value, rank in _misread(first):
        yield value, second, f"Is its first number of inches {value:g} instead of {first:g}", rank
    for value, rank in _misread(second):
        yield first, value, f"Is its second number of inches {value:g} instead of {second:g}", rank


def _misread(value: float) -> Iterator[tuple[float, int]]:
    """Numbers that one slip of the finger turns into ``value``, the likelier the lower their rank."""
    text = f"{abs(value):.4f}".rstrip("0").rstrip(".")
    sign = -1.0 if value < 0 else 1.0
    digits = [place for place, letter in enumerate(text) if letter.isdigit()]
    for place, following in pairwise(digits):
        letters = list(text)
        letters[place], letters[following] = letters[following], letters[place]
        yield sign * float("".join(letters)), 1
    if value:
        yield from ((-value, 1), (value * 10, 1), (value / 10, 1))
    for place in digits:
        for digit in "0123456789":
            if digit != text[place]:
                yield sign * float(text[:place] + digit + text[place + 1 :]), 2
            yield sign * float(text[:place] + digit + text[place:]), 3
        yield sign * float((text[:place] + text[place + 1 :]).strip(".") or "0"), 3
    for digit in "0123456789":
        yield sign * float(text + digit), 3
