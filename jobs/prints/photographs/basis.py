"""Two short steps that lead from every motif to its neighbours, taken from the likeness of a picture with itself."""

from __future__ import annotations

import numpy as np

from jobs.prints.photographs.peaks import Array, Likeness
from jobs.prints.photographs.refusals import NoPrint

LEAST_LIKENESS = 0.06
NEARLY_AS_GOOD = 0.9
_TRIED = 40
_AROUND = np.array([(1, 0), (0, 1), (1, 1), (1, -1), (2, 0), (0, 2), (2, 1), (1, 2), (2, -1), (1, -2)], float)

PLAIN = "no print that comes again is seen: plain cloth, or its print is larger than half the picture"
PLAIN_ADVICE = "take the photograph from farther away so that two or more repeats are in it each way"


def first_basis(found: Likeness) -> Array:
    """Steps (2, 2), one a row as x, y in pixels: of all steps that lead to likeness throughout, the closest mesh.

    A step that leads to a near likeness only is taken here too, and told from a true one later, where the noise is
    known. Raises NoPrint.
    """
    peaks = found.peaks
    if not len(peaks) or peaks[0, 2] < _floor(found):
        raise NoPrint(PLAIN, PLAIN_ADVICE)
    tried = _candidates(peaks)
    pairs = []
    for i, one in enumerate(tried):
        for other in tried[i + 1 :]:
            area = abs(one[0] * other[1] - one[1] * other[0])
            if area < 0.2 * np.hypot(*one[:2]) * np.hypot(*other[:2]):
                continue
            steps = reduced(np.stack([one[:2], other[:2]]))
            values = found.at(_AROUND @ steps)
            known = values[~np.isnan(values)]
            if len(known) >= 3:
                pairs.append((float(known.mean()), float(known.min()), area, steps))
    if not pairs or max(pair[0] for pair in pairs) < _floor(found):
        raise NoPrint(
            "the print comes again in one direction only, as far as is seen",
            "take the photograph so that two or more repeats are in it each way",
        )
    best = max(pair[0] for pair in pairs)
    near = [pair for pair in pairs if pair[0] >= NEARLY_AS_GOOD * best]
    good = [pair for pair in near if pair[1] >= 0.7 * best] or near
    least = min(pair[2] for pair in good)
    smallest = [pair for pair in good if pair[2] < 1.25 * least]
    return max(smallest, key=lambda pair: pair[0])[3]


def _candidates(peaks: Array) -> Array:
    """The highest peaks, and among those nearly as high the nearest."""
    high = peaks[peaks[:, 2] >= 0.6 * peaks[0, 2]]
    near = high[np.argsort(np.hypot(high[:, 0], high[:, 1]))][: _TRIED // 2]
    return np.unique(np.concatenate([high[: _TRIED // 2], near]), axis=0)


def _floor(found: Likeness) -> float:
    """What chance alone may reach: the middling size of the likeness at all lags, and a least value."""
    spread = float(np.median(np.abs(found.values)))
    return max(LEAST_LIKENESS, 3.0 * spread if spread < 0.1 else LEAST_LIKENESS)


def reduced(steps: Array) -> Array:
    """The two shortest steps (2, 2) of the same lattice (Lagrange and Gauss)."""
    one, other = np.array(steps[0], float), np.array(steps[1], float)
    for _ in range(64):
        if one @ one > other @ other:
            one, other = other, one
        times = round(float(one @ other / (one @ one)))
        if times == 0:
            break
        other = other - times * one
    return np.stack([one, other])
