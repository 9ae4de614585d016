"""Several measurements of one print made one, each weighing by how sure it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from jobs.model.choices import Symmetry

APART = 3.0
"""Standard errors from which two answers disagree."""


@dataclass(frozen=True)
class Sized:
    """What one picture says, inches: every ``_doubt`` is one standard error, the scale's included."""

    along_in: float
    along_doubt_in: float
    across_in: float
    across_doubt_in: float
    drop: float
    drop_doubt: float
    symmetry: tuple[Symmetry, Symmetry, bool]
    confidence: float


@dataclass(frozen=True)
class Combined:
    """All of them together; ``best`` is the number of the surest, ``disagreements`` say what does not go together."""

    sized: Sized
    best: int
    disagreements: tuple[str, ...]


def combined(all_of: Sequence[Sized]) -> Combined:
    """The mean lengths, weighed by the inverse squares of their standard errors; drop and symmetry of the surest.

    Where the lengths scatter beyond what their errors say, the error of the mean is taken as that much larger (R. T.
    Birge, Physical Review 40, 1932). Raises ValueError for nothing.
    """
    if not all_of:
        raise ValueError("nothing to combine")
    best = max(range(len(all_of)), key=lambda k: all_of[k].confidence)
    surest = all_of[best]
    said: list[str] = []
    along, along_doubt = _mean([(one.along_in, one.along_doubt_in) for one in all_of], "along", said)
    across, across_doubt = _mean([(one.across_in, one.across_doubt_in) for one in all_of], "across", said)
    for number, one in enumerate(all_of, 1):
        off = abs((one.drop - surest.drop + 0.5) % 1 - 0.5)
        if off > max(0.006, APART * float(np.hypot(one.drop_doubt, surest.drop_doubt))):
            said.append(f"picture {number} shows a drop of {one.drop:.3f}, picture {best + 1} one of {surest.drop:.3f}")
        if one.symmetry != surest.symmetry:
            said.append(f"picture {number} shows other mirror lines than picture {best + 1}, which is surer")
    sized = Sized(
        along, along_doubt, across, across_doubt, surest.drop, surest.drop_doubt, surest.symmetry, surest.confidence
    )
    return Combined(sized, best, tuple(said))


def _mean(values: list[tuple[float, float]], name: str, said: list[str]) -> tuple[float, float]:
    lengths, doubts = np.array(values).T
    doubts = np.maximum(doubts, 1e-6 * lengths)
    weights = doubts**-2.0
    mean = float((weights * lengths).sum() / weights.sum())
    doubt = float(weights.sum() ** -0.5)
    if len(lengths) > 1:
        scatter = float((weights * (lengths - mean) ** 2).sum()) / (len(lengths) - 1)
        off = np.abs(lengths - mean) / np.sqrt(np.maximum(doubts**2 - doubt**2, 1e-12))
        for number in np.nonzero(off > APART)[0]:
            said.append(
                f"the repeat {name} in picture {number + 1} is {lengths[number]:.3f} in, the others say otherwise by "
                "more than their uncertainty: check its scale"
            )
        if scatter > 1 + 2 * (2 / (len(lengths) - 1)) ** 0.5:
            doubt *= scatter**0.5
    return mean, doubt
