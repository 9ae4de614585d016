"""The checks that a set of marks must pass before any map is put through it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, permutations

import numpy as np
from numpy.typing import NDArray

from calibration.homography import BeyondHorizon, apply, estimate, inverse
from calibration.least_squares import NoConvergence
from calibration.marks import Mark, pixels_of, tables_of
from calibration.problems import Code, MarksRefused, Problem, problem

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


OF_THE_MAP = (Code.CROSSED_ORDER, Code.MAP_FOLDS, Code.BEYOND_HORIZON, Code.CONTRADICT)
"""What is wrong with the map that would go through the marks, whatever mark is to blame."""


def check_marks(marks: Sequence[Mark]) -> None:
    """Raise ``MarksRefused`` with every problem when no trustworthy map can go through the marks.

    Refused are fewer than four marks, numbers that are none, marks repeated, marks in line (three of four, or all but
    one of more), pixels in another order than the marks on the table, and marks beyond the horizon of their own map.
    Mirrored rigs are valid, and so are pixels outside the frame (see ``outside_frame``). Of a crossed order the value
    ``order`` is the mark whose pixel belongs to mark 1, to mark 2 and so on.
    """
    problems = _unreadable(marks) or _wrong_number(marks)
    if not problems:
        problems = _repeated(marks) or _in_line(marks) or _crossed(marks) or _beyond_horizon(marks)
    if problems:
        raise MarksRefused(*problems)


def _unreadable(marks: Sequence[Mark]) -> list[Problem]:
    values = np.hstack([tables_of(marks), pixels_of(marks)])
    readable = (np.isfinite(values) & (np.abs(values) <= LARGEST)).all(axis=1)
    return [
        problem(("marks", index), Code.MARK_IS_NO_PLACE, marks=(index + 1,))
        for index in np.flatnonzero(~readable).tolist()
    ]


def _wrong_number(marks: Sequence[Mark]) -> list[Problem]:
    if len(marks) > MOST:
        return [problem(("marks",), Code.TOO_MANY_MARKS, count=len(marks), most=MOST)]
    return [] if len(marks) >= 4 else [problem(("marks",), Code.TOO_FEW_MARKS, count=len(marks))]


def _repeated(marks: Sequence[Mark]) -> list[Problem]:
    problems = []
    for code, points in ((Code.REPEATED_ON_TABLE, tables_of(marks)), (Code.REPEATED_IN_FRAME, pixels_of(marks))):
        extent = float(np.linalg.norm(np.ptp(points, axis=0)))
        near = np.linalg.norm(points[:, None] - points[None], axis=2) <= REPEATED * extent
        first = np.argmax(near, axis=1)
        for index in np.unique(first[first < np.arange(len(marks))]):
            numbers = tuple((np.flatnonzero(first == index) + 1).tolist())
            problems.append(problem(("marks",), code, marks=numbers))
    return problems


def _in_line(marks: Sequence[Mark]) -> list[Problem]:
    """All in a line; else all but one (three of four): then too little is known off that line."""
    everything = tuple(range(len(marks)))
    problems = []
    for code, points in ((Code.IN_LINE_ON_TABLE, tables_of(marks)), (Code.IN_LINE_IN_FRAME, pixels_of(marks))):
        groups = [everything]
        if off_line(points) > IN_LINE:
            groups = _all_but_one(points)
        for group in groups:
            if off_line(points[list(group)]) <= IN_LINE:
                problems.append(problem(("marks",), code, marks=tuple(index + 1 for index in group)))
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


def _crossed(marks: Sequence[Mark]) -> list[Problem]:
    table, pixels = tables_of(marks), pixels_of(marks)
    triples = telling_triples(table)
    faults = folded(table, pixels, triples)
    if not faults.any():
        return []
    order = tuple(index + 1 for index in right_order(table, pixels))
    if order:
        moved = tuple(number for number, source in enumerate(order, 1) if number != source)
        return [problem(("marks",), Code.CROSSED_ORDER, marks=moved, order=order)]
    worst = np.bincount(triples[faults].ravel(), minlength=len(marks))
    numbers = tuple(int(index) + 1 for index in np.flatnonzero(worst == worst.max()))
    return [problem(("marks",), Code.MAP_FOLDS, marks=numbers)]


def contradicting(worst_in: float | None) -> Problem:
    """Marks that no map settles between, or that are left ``worst_in`` off by the best one: more than care explains."""
    return problem(("marks",), Code.CONTRADICT, off_in=worst_in)


def _beyond_horizon(marks: Sequence[Mark]) -> list[Problem]:
    places = tables_of(marks)
    try:
        matrix = estimate(places, pixels_of(marks))
        apply(matrix, places)
        apply(inverse(matrix), pixels_of(marks))
    except NoConvergence:
        return [contradicting(None)]
    except BeyondHorizon as beyond:
        return [problem(("marks",), Code.BEYOND_HORIZON, marks=tuple(index + 1 for index in beyond.points))]
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
