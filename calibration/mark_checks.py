"""The checks that a set of marks must pass before any map is put through it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

from calibration import words
from calibration.homography import BeyondHorizon, apply, estimate, inverse
from calibration.least_squares import NoConvergence
from calibration.marks import Mark, pixels_of, tables_of

Array = NDArray[np.float64]

IN_LINE = 0.001
"""Marks are in line when none stands farther from their best line than this share of the length along it."""
REPEATED = 0.001
"""Two marks are one when they lie closer than this share of the extent of all."""
LARGEST = 1e6
"""A coordinate beyond this many inches or pixels is a slip, not a mark."""
MOST_TRIED = 24
"""Of more marks only so many, those farthest from the best line, are tried as the one off it."""
MOST = 500
"""More marks than this are no marks of a person, and the checks would take long."""
TURN_KNOWN = (0.01, 0.05)
"""Of four marks, of more: three tell the order of marks when their height is this share of the extent of all.
More marks may be close together, where honest placing errors turn flat triples over; their residuals tell of slips."""


class Trouble(StrEnum):
    """What can be wrong with a set of marks."""

    TOO_FEW = "too few"
    TOO_MANY = "too many"
    NOT_A_NUMBER = "not a number"
    REPEATED_ON_TABLE = "repeated on the table"
    REPEATED_IN_FRAME = "repeated in the frame"
    IN_LINE = "in line"
    CROSSED = "crossed order"
    BEYOND_HORIZON = "beyond the horizon"
    CONTRADICT = "contradict each other"


OF_THE_MAP = (Trouble.CROSSED, Trouble.BEYOND_HORIZON, Trouble.CONTRADICT)
"""Troubles of the map that would go through the marks, whatever mark is to blame."""
NAMED = 6
"""So many marks are named one by one; of more, the first and how many."""


@dataclass(frozen=True)
class MarkProblem:
    """One thing wrong: ``marks`` are numbers counted from 1; ``what`` is wrong; ``advice`` what to do instead.

    ``order`` (crossed order only) is the mark whose pixel belongs to mark 1, to mark 2 and so on, when it is clear.
    """

    trouble: Trouble
    marks: tuple[int, ...]
    what: str
    advice: str
    order: tuple[int, ...] = ()


class MarksRefused(ValueError):  # noqa: N818
    """The marks cannot carry a calibration. ``problems`` holds everything found wrong."""

    def __init__(self, problems: tuple[MarkProblem, ...]) -> None:
        self.problems = problems
        super().__init__("\n".join(f"{problem.what}; {problem.advice}" for problem in problems))


def check_marks(marks: Sequence[Mark]) -> None:
    """Raise ``MarksRefused`` with every problem when no trustworthy map can go through the marks.

    Refused are fewer than four marks, numbers that are none, marks repeated, marks in line (three of four, or all but
    one of more), pixels in another order than the marks on the table, and marks beyond the horizon of their own map.
    Mirrored rigs are valid, and so are pixels outside the frame (see ``outside_frame``).
    """
    problems = _unreadable(marks) or _wrong_number(marks)
    if not problems:
        problems = _repeated(marks) or _in_line(marks) or _crossed(marks) or _beyond_horizon(marks)
    if problems:
        raise MarksRefused(tuple(problems))


def named(numbers: Sequence[int]) -> str:
    """Mark numbers in words: "mark 3", "marks 1, 2 and 4", "marks 1, 2, 3, 4, 5 and 45 more"."""
    texts = [str(number) for number in numbers]
    if len(texts) > NAMED:
        texts = [*texts[: NAMED - 1], f"{len(texts) - NAMED + 1} more"]
    return f"mark {texts[0]}" if len(texts) == 1 else f"marks {', '.join(texts[:-1])} and {texts[-1]}"


def _unreadable(marks: Sequence[Mark]) -> list[MarkProblem]:
    values = np.hstack([tables_of(marks), pixels_of(marks)])
    return [
        MarkProblem(
            Trouble.NOT_A_NUMBER,
            (number,),
            f"mark {number} has a place that is not a usable number",
            "write its inches along and across the table, and its pixel right and down",
        )
        for number, row in enumerate(values, 1)
        if not (np.isfinite(row).all() and (np.abs(row) <= LARGEST).all())
    ]


def _wrong_number(marks: Sequence[Mark]) -> list[MarkProblem]:
    if len(marks) > MOST:
        return [MarkProblem(Trouble.TOO_MANY, (), f"there are {len(marks)} marks", f"keep at most {MOST}")]
    if len(marks) >= 4:
        return []
    count = {0: "there are no marks", 1: "there is one mark"}.get(len(marks), f"there are {len(marks)} marks")
    advice = "set at least four, spread to the corners of the lit area"
    return [MarkProblem(Trouble.TOO_FEW, (), count, advice)]


def _repeated(marks: Sequence[Mark]) -> list[MarkProblem]:
    problems = []
    for trouble, points, where in (
        (Trouble.REPEATED_ON_TABLE, tables_of(marks), "on the table"),
        (Trouble.REPEATED_IN_FRAME, pixels_of(marks), "in the frame"),
    ):
        extent = float(np.linalg.norm(np.ptp(points, axis=0)))
        near = np.linalg.norm(points[:, None] - points[None], axis=2) <= REPEATED * extent
        first = np.argmax(near, axis=1)
        for index in np.unique(first[first < np.arange(len(marks))]):
            numbers = tuple((np.flatnonzero(first == index) + 1).tolist())
            what = f"{named(numbers)} are at the same place {where}"
            rest = f"mark {numbers[1]}" if len(numbers) == 2 else f"all but mark {numbers[0]}"
            advice = f"move {rest} or leave {'it' if len(numbers) == 2 else 'them'} out"
            problems.append(MarkProblem(trouble, numbers, what, advice))
    return problems


def _in_line(marks: Sequence[Mark]) -> list[MarkProblem]:
    """All in a line; else all but one (three of four): then too little is known off that line."""
    everything = tuple(range(len(marks)))
    problems = []
    for points, where in ((tables_of(marks), "on the table"), (pixels_of(marks), "in the frame")):
        groups = [everything]
        if off_line(points) > IN_LINE:
            groups = _all_but_one(points)
        for group in groups:
            if off_line(points[list(group)]) <= IN_LINE:
                numbers = tuple(index + 1 for index in group)
                what = f"{named(numbers)} stand in one line {where}"
                advice = "move one of them well off the line, best to a corner of the lit area"
                problems.append(MarkProblem(Trouble.IN_LINE, numbers, what, advice))
    return problems


def _all_but_one(points: Array) -> list[tuple[int, ...]]:
    """Groups of all but one point that may be in line: without whichever it is, two of any four are on that line."""
    count = len(points)
    everything = tuple(range(count))
    if count <= MOST_TRIED:
        return list(combinations(everything, count - 1))
    spread = points - points.mean(axis=0)
    away = np.abs(spread @ np.linalg.svd(spread, full_matrices=False)[2][1])
    return [tuple(index for index in everything if index != left) for left in np.argsort(-away)[:MOST_TRIED].tolist()]


def _crossed(marks: Sequence[Mark]) -> list[MarkProblem]:
    table, pixels = tables_of(marks), pixels_of(marks)
    triples = telling_triples(table)
    faults = folded(table, pixels, triples)
    if not faults.any():
        return []
    order = tuple(index + 1 for index in right_order(table, pixels))
    if order:
        moved = tuple(number for number, source in enumerate(order, 1) if number != source)
        what = f"the pixels of {named(moved)} are in another order than the marks on the table"
        pairs = ", ".join(f"mark {number} takes the pixel of mark {order[number - 1]}" for number in moved)
        return [MarkProblem(Trouble.CROSSED, moved, what, f"if they were swapped, put them right: {pairs}", order)]
    worst = np.bincount(triples[faults].ravel(), minlength=len(marks))
    numbers = tuple(int(index) + 1 for index in np.flatnonzero(worst == worst.max()))
    what = f"no flat table can be lit so: the map would fold at {named(numbers)}, beyond its horizon"
    return [
        MarkProblem(Trouble.BEYOND_HORIZON, numbers, what, "check the inches and the pixel of each, or set it again")
    ]


def contradicting(worst_in: float | None) -> MarkProblem:
    """Marks that no map settles between, or that are left ``worst_in`` off by the best one: more than care explains."""
    far = f" by {words.length(worst_in)}" if worst_in is not None else ""
    what = f"the marks contradict each other{far}, which no careful work does"
    return MarkProblem(Trouble.CONTRADICT, (), what, "check a mark: the inches and the pixel of each, or set it again")


def _beyond_horizon(marks: Sequence[Mark]) -> list[MarkProblem]:
    places = tables_of(marks)
    try:
        matrix = estimate(places, pixels_of(marks))
        apply(matrix, places)
        apply(inverse(matrix), pixels_of(marks))
    except NoConvergence:
        return [contradicting(None)]
    except BeyondHorizon as beyond:
        numbers = tuple(index + 1 for index in beyond.points)
        what = f"{named(numbers)} would lie beyond the horizon of the map"
        return [MarkProblem(Trouble.BEYOND_HORIZON, numbers, what, "check inches and pixel of each, or set it again")]
    return []


def telling_triples(table: Array) -> NDArray[np.intp]:
    """Triples (T, 3) of places (N, 2) that stand far enough from a line to tell which way they turn."""
    return wide_triples(table, TURN_KNOWN[len(table) > 4])


def folded(table: Array, pixels: Array, triples: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Which triples (T,) turn the other way than most: a map that does not fold turns all alike."""
    alike = turns(table, triples) * turns(pixels, triples) > 0
    return alike != (2 * alike.sum() >= len(alike))


def right_order(table: Array, pixels: Array) -> tuple[int, ...]:
    """The order of four ``pixels`` (indices from 0) that agrees with ``table``, changing fewest; empty when none does.

    Of equal ones that rig is taken which is not mirrored (pixels count down, inches away from the person). Of more
    marks the order is a slip among others, see ``calibration.judging``.
    """
    count = len(table)
    triples = telling_triples(table)
    orders: list[tuple[int, ...]] = list(permutations(range(count))) if count == 4 else []
    best: tuple[tuple[int, bool], tuple[int, ...]] | None = None
    for order in orders:
        moved = pixels[list(order)]
        if not folded(table, moved, triples).any():
            mirrored = bool(turns(table, triples)[0] * turns(moved, triples)[0] > 0)
            rank = (sum(index != place for place, index in enumerate(order)), mirrored)
            best = min(best or (rank, order), (rank, order))
    return best[1] if best else ()


def off_line(points: Array) -> float:
    """Farthest distance of ``points`` (N, 2) from their best line, over their length along it; 0 is a perfect line."""
    spread = points - points.mean(axis=0)
    along = spread @ np.linalg.svd(spread, full_matrices=False)[2].T
    length = float(np.ptp(along[:, 0]))
    return float(np.abs(along[:, 1]).max()) / length if length > 0 else 0.0


def turns(points: Array, triples: NDArray[np.intp]) -> Array:
    """Twice the signed area (T,) of each triple (T, 3) of ``points`` (N, 2): positive turns from +x towards +y."""
    first, second, third = (points[triples[:, column]] for column in range(3))
    a, b = second - first, third - first
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]


def spread_out(points: Array, count: int) -> NDArray[np.intp]:
    """Indices (M,) of up to ``count`` of ``points`` (N, 2), each the farthest from those before it."""
    chosen = [int(np.argmax(np.linalg.norm(points - points.mean(axis=0), axis=1)))]
    gap = np.linalg.norm(points - points[chosen[0]], axis=1)
    while len(chosen) < min(count, len(points)):
        chosen.append(int(np.argmax(gap)))
        gap = np.minimum(gap, np.linalg.norm(points - points[chosen[-1]], axis=1))
    return np.array(chosen, dtype=np.intp)


def wide_triples(points: Array, least: float, anchors: int = 12) -> NDArray[np.intp]:
    """Triples (T, 3) whose height over the extent of all ``points`` is at least ``least``.

    Every triple of up to ``anchors`` points; of more, each point with every two of that many spread-out ones.
    """
    ends = spread_out(points, anchors)
    triples = np.array(
        [
            (*pair, other)
            for pair in combinations(ends.tolist(), 2)
            for other in range(len(points))
            if other not in pair
        ],
        dtype=np.intp,
    ).reshape(-1, 3)
    triples = np.unique(np.sort(triples, axis=1), axis=0)
    corners = points[triples]
    sides = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2).max(axis=1)
    return triples[np.abs(turns(points, triples)) >= least * np.linalg.norm(np.ptp(points, axis=0)) * sides]
