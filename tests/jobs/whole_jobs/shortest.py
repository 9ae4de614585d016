"""The least cloth of few lengths, every order tried with the plainest arithmetic, whatever the first row."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import permutations

from jobs.model.plan import Plan
from jobs.model.records import dataclass

ZERO = Fraction(0)
MOST = 6
"""Lengths of which every order is tried."""


@dataclass(frozen=True)
class Lane:
    """A length cut off from selvedge to selvedge: how long, and how far after a row it begins, within one repeat."""

    length: Fraction
    after_row: Fraction


def lanes_of(plan: Plan) -> list[Lane]:
    """The lengths of a plan; what lies beside something else belongs to the length of that."""
    along = plan.job.cloth.repeat.along if plan.job.cloth.repeat is not None else None
    spans: dict[tuple[int, str], tuple[Fraction, Fraction]] = {}
    for one in plan.placements:
        word = one.piece, one.cut.beside or f"alone {one.cut.id}"
        start, end = one.start, one.start + one.cut.length
        low, high = spans.get(word, (start, end))
        spans[word] = min(low, start), max(high, end)
    found = []
    for (piece, _), (start, end) in spans.items():
        row = plan.pieces[piece - 1].piece.first_row
        found.append(Lane(end - start, (start - row) % along if along else ZERO))
    return found


def least_end(lanes: Sequence[Lane], along: Fraction | None, first_row: Fraction, begin: Fraction) -> Fraction:
    """Where the last length ends at best on cloth without flaws that is cut from ``begin`` on."""
    if along is None:
        return begin + sum((lane.length for lane in lanes), ZERO)
    ends = []
    for order in permutations(lanes):
        at = begin
        for lane in order:
            at += (first_row + lane.after_row - at) % along + lane.length
        ends.append(at)
    return min(ends)


def worst(lanes: Sequence[Lane], along: Fraction | None) -> Fraction:
    """What is needed at worst over all first rows: just past a place where some length would begin.

    In between, every wait for the first length grows shorter alike; so nothing worse lies there. Just past the place of
    one of them its wait is a whole repeat, bar a hair.
    """
    if along is None:
        return least_end(lanes, None, ZERO, ZERO)
    found = []
    for past in {lane.after_row for lane in lanes}:
        ends = []
        for order in permutations(lanes):
            wait = (order[0].after_row - past) % along or along
            at = past + wait
            for lane in order:
                at += (lane.after_row - at) % along + lane.length
            ends.append(at - past)
        found.append(min(ends))
    return max(found)
