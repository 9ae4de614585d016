"""A confirmed point that does not go with the others: on the wrong motif, or simply misplaced."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeGuard

import numpy as np

from calibration.least_squares import NoConvergence
from calibration.registration.fit import PrintFit
from calibration.registration.fitting import fit_terms, misfit, terms_for
from calibration.registration.lattice import Motif, PrintPoint

Numbered = tuple[int, PrintPoint]

USUAL_SQUARES = 12.0
"""Points that any ordinary cloth can have are no stranger than this and one for each point."""
CLEARLY = 8.0
"""One reading of the points is clearly likelier than another when it is less strange by this much."""
PAIR_SHARE = 0.05
"""Two points alone are doubted when their distance is not as planned by more than this share and ``MISPLACED_IN``."""
MISPLACED_IN = 1 / 4
"""A point this near to where the others want it is taken as it is: cloth is never quite even."""


@dataclass(frozen=True)
class Outlier:
    """Point ``number`` (from 1), confirmed as ``motif``, does not go with the rest, which want it at ``expected_in``.

    ``proposed`` is the row and column it lies on by the others; None when it lies on no motif point: mark it again.
    ``sure`` is false when another point could be the wrong one just as well.
    """

    number: int
    motif: Motif
    proposed: Motif | None
    missed_in: float
    expected_in: tuple[float, float]
    sure: bool


@dataclass(frozen=True)
class _Reading:
    outlier: Outlier
    squares: float


def find_outlier(points: Sequence[Numbered], carried: PrintFit) -> Outlier | None:
    """The point that most likely is wrong among numbered ones, or None when they go together.

    Of three or more each is left out in turn; the likeliest map of the others says which motif point it lies on. A
    single wrong motif explains the points if with it they lie as cloth of the trade does. Of two only the distance can
    be judged, and not which of them is wrong.
    """
    taken = [point for _, point in points]
    if len(taken) < 3:
        return _pair(points, carried) if len(taken) == 2 else None
    now = misfit(taken, carried)[0]
    if now <= _usual(len(taken)):
        return None
    judged = [_left_out(points, at, carried) for at in range(len(points))]
    moved = [reading for reading, _ in judged if reading is not None and reading.squares <= now / 2]
    dropped = [] if _lie_smoothly(taken, carried) else [reading for _, reading in judged if _is_far(reading)]
    if moved and _is_usual(best := min(moved, key=_squares), len(taken)):
        return _sure_or_not(best, moved)
    if len(taken) >= 5 and dropped and _is_usual(best := min(dropped, key=_squares), len(taken) - 1):
        return _sure_or_not(best, dropped)
    either = [*moved, *(dropped if len(taken) >= 4 else ())]
    return replace(min(either, key=_squares).outlier, sure=False) if either else None


def _lie_smoothly(points: Sequence[PrintPoint], carried: PrintFit) -> bool:
    """Whether some map, however odd a cloth it makes, goes near all points: then none of them stands out."""
    motifs = [point.motif for point in points]
    try:
        fit = fit_terms(points, terms_for(motifs, carried.lattice), carried)
    except NoConvergence:
        return False
    off = fit.to_table(fit.lattice.places(motifs)) - np.array([point.table_in for point in points])
    return bool(np.hypot(*off.T).max() < MISPLACED_IN)


def _pair(points: Sequence[Numbered], carried: PrintFit) -> Outlier | None:
    (_, first), (number, second) = points
    planned = math.dist(carried.expected(first.motif), carried.expected(second.motif))
    run = np.subtract(second.table_in, first.table_in)
    found = float(np.hypot(*run))
    missed = abs(found - planned)
    if missed <= PAIR_SHARE * planned + MISPLACED_IN or found == 0:
        return None
    x, y = (first.table_in + run * (planned / found)).tolist()
    return Outlier(number, second.motif, None, missed, (x, y), False)


def _left_out(points: Sequence[Numbered], at: int, carried: PrintFit) -> tuple[_Reading | None, _Reading | None]:
    """Point ``at`` read as lying on the motif point that the others say, and read as misplaced."""
    number, point = points[at]
    rest = [other for index, (_, other) in enumerate(points) if index != at]
    squares, fit = misfit(rest, carried)
    if not np.isfinite(squares):
        return None, None
    expected = fit.expected(point.motif)
    missed = float(np.hypot(*np.subtract(point.table_in, expected)))
    dropped = _Reading(Outlier(number, point.motif, None, missed, expected, True), squares)
    motif = fit.nearest_motif(point.table_in)
    if motif == point.motif:
        return None, dropped
    corrected = [*rest, replace(point, row=motif[0], column=motif[1])]
    moved = _Reading(replace(dropped.outlier, proposed=motif), misfit(corrected, carried)[0])
    return moved, dropped


def _is_far(reading: _Reading | None) -> TypeGuard[_Reading]:
    return reading is not None and reading.outlier.missed_in >= MISPLACED_IN


def _squares(reading: _Reading) -> float:
    return reading.squares


def _usual(points: int) -> float:
    return USUAL_SQUARES + points


def _is_usual(reading: _Reading, points: int) -> bool:
    return reading.squares <= _usual(points)


def _sure_or_not(best: _Reading, readings: list[_Reading]) -> Outlier:
    """The best reading; sure when no other point explains it nearly as well."""
    rivals = [one.squares for one in readings if one is not best]
    return replace(best.outlier, sure=not rivals or min(rivals) > best.squares + CLEARLY)
