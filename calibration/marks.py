"""A marked point: its place on the table and the pixel that lights it; and the checks a set of them must pass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from calibration import words
from calibration.homography import apply, estimate, inverse
from calibration.least_squares import NoConvergence
from calibration.order import folded, right_order, telling_triples
from calibration.reach import BeyondHorizon
from calibration.shapes import off_line

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


@dataclass(frozen=True)
class Mark:
    """One marked point: ``table`` in inches, ``pixel`` in the frame (top-left pixel's centre is (0.5, 0.5))."""

    table: tuple[float, float]
    pixel: tuple[float, float]


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


def tables_of(marks: Sequence[Mark]) -> Array:
    """The places of the marks on the table (N, 2), inches."""
    return np.array([mark.table for mark in marks], dtype=np.float64).reshape(-1, 2)


def pixels_of(marks: Sequence[Mark]) -> Array:
    """The places of the marks in the frame (N, 2), pixels."""
    return np.array([mark.pixel for mark in marks], dtype=np.float64).reshape(-1, 2)


def outside_frame(marks: Sequence[Mark], width_px: int, height_px: int) -> tuple[int, ...]:
    """Numbers of the marks whose pixel the projector cannot light: a fit does not mind, a person should be told."""
    pixels = pixels_of(marks)
    inside = ((pixels >= 0) & (pixels <= [width_px, height_px])).all(axis=1)
    return tuple(int(index) + 1 for index in np.flatnonzero(~inside))


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
