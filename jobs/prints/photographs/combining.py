"""Several measurements of one print made one, each weighing by how sure it is."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

import numpy as np

from jobs.model.choices import Symmetry
from jobs.model.records import dataclass

APART = 3.0
"""Standard errors from which two answers disagree."""


@dataclass(frozen=True)
class Sized:
    """What one picture says, inches: every ``_error`` is one standard error, the scale's included."""

    along_in: float
    along_error_in: float
    across_in: float
    across_error_in: float
    drop: float
    drop_error: float
    symmetry: tuple[Symmetry, Symmetry, bool]
    confidence: float


class About(StrEnum):
    """What two pictures of one print can disagree about."""

    ALONG = "along"
    ACROSS = "across"
    DROP = "drop"
    MIRRORS = "mirrors"


@dataclass(frozen=True)
class Disagreement:
    """Picture ``number`` (from 1) shows something else than the others: lengths in inches, a drop in repeats.

    Of a drop and of mirrors ``best`` is the picture it is held against; ``its`` and ``theirs`` are None for mirrors.
    """

    about: About
    number: int
    its: float | None = None
    best: int = 0
    theirs: float | None = None


@dataclass(frozen=True)
class Combined:
    """All of them together; ``best`` is the number of the surest, from 0."""

    sized: Sized
    best: int
    disagreements: tuple[Disagreement, ...]


def combined(all_of: Sequence[Sized]) -> Combined:
    """The mean lengths, weighed by the inverse squares of their standard errors; drop and symmetry of the surest.

    Where the lengths scatter beyond what their errors say, the error of the mean is taken as that much larger (R. T.
    Birge, Physical Review 40, 1932). Raises ValueError for nothing.
    """
    if not all_of:
        raise ValueError("nothing to combine")
    best = max(range(len(all_of)), key=lambda k: all_of[k].confidence)
    surest = all_of[best]
    along, along_error, not_along = _mean([(one.along_in, one.along_error_in) for one in all_of])
    across, across_error, not_across = _mean([(one.across_in, one.across_error_in) for one in all_of])
    found = [Disagreement(About.ALONG, k + 1, all_of[k].along_in) for k in not_along]
    found += [Disagreement(About.ACROSS, k + 1, all_of[k].across_in) for k in not_across]
    for number, one in enumerate(all_of, 1):
        off = abs((one.drop - surest.drop + 0.5) % 1 - 0.5)
        if off > max(0.006, APART * float(np.hypot(one.drop_error, surest.drop_error))):
            found.append(Disagreement(About.DROP, number, one.drop, best + 1, surest.drop))
        if one.symmetry != surest.symmetry:
            found.append(Disagreement(About.MIRRORS, number, best=best + 1))
    sized = Sized(
        along, along_error, across, across_error, surest.drop, surest.drop_error, surest.symmetry, surest.confidence
    )
    return Combined(sized, best, tuple(found))


def _mean(values: list[tuple[float, float]]) -> tuple[float, float, list[int]]:
    """The weighted mean of lengths with their standard errors, its own error, and which of them do not go with it."""
    lengths, errors = np.array(values).T
    errors = np.maximum(errors, 1e-6 * lengths)
    weights = errors**-2.0
    mean = float((weights * lengths).sum() / weights.sum())
    error = float(weights.sum() ** -0.5)
    if len(lengths) == 1:
        return mean, error, []
    scatter = float((weights * (lengths - mean) ** 2).sum()) / (len(lengths) - 1)
    off = np.abs(lengths - mean) / np.sqrt(np.maximum(errors**2 - error**2, 1e-12))
    if scatter > 1 + 2 * (2 / (len(lengths) - 1)) ** 0.5:
        error *= scatter**0.5
    return mean, error, np.flatnonzero(off > APART).tolist()
