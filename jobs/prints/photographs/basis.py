"""Two short steps that lead from every motif to its neighbours, from where a picture is like itself."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from jobs.prints.photographs.opening import Array, Pixels
from jobs.prints.photographs.problems import NoPrint, PhotoCode

MOST_LAG = 0.62
"""Share of the picture a repeat may take: nearly two of them must be seen."""
LEAST_LAG = 5
LEAST_LIKENESS = 0.06
NEARLY_AS_GOOD = 0.9
_TRIED = 40
_AROUND = np.array([(1, 0), (0, 1), (1, 1), (1, -1), (2, 0), (0, 2), (2, 1), (1, 2), (2, -1), (1, -2)], float)


@dataclass(frozen=True)
class Likeness:
    """``values`` at lags (rows, columns) from the centre, 1 at no lag; ``peaks`` (n, 3): x, y in pixels, height."""

    values: NDArray[np.float32]
    peaks: Array

    def at(self, lags: Array) -> Array:
        """Likeness (n,) at lags (n, 2) as x, y; the best of the nearest nine, NaN where nothing is known."""
        high, wide = self.values.shape
        x, y = (np.rint(lags[:, i]).astype(int) + half for i, half in ((0, wide // 2), (1, high // 2)))
        inside = (x >= 1) & (x < wide - 1) & (y >= 1) & (y < high - 1)
        found = np.full(len(lags), np.nan)
        steps = [(i, j) for i in (-1, 0, 1) for j in (-1, 0, 1)]
        found[inside] = np.max([self.values[y[inside] + i, x[inside] + j] for i, j in steps], 0)
        return found


def likeness(channels: Pixels) -> Likeness:
    """The autocorrelation of channels (h, w, c), each lag divided by how much of the picture overlaps itself there."""
    high, wide = channels.shape[:2]
    reach_y, reach_x = int(high * MOST_LAG), int(wide * MOST_LAG)
    shape = _quick(high + reach_y), _quick(wide + reach_x)
    power = np.zeros((shape[0], shape[1] // 2 + 1))
    for channel in range(channels.shape[2]):
        values = channels[..., channel]
        if float(values.std()) > 1e-4:
            power += np.abs(np.fft.rfft2(values, shape)) ** 2
    covered = np.abs(np.fft.rfft2(np.ones((high, wide), np.float32), shape)) ** 2
    both = np.stack([np.fft.irfft2(one, shape) for one in (power, covered)])
    both = np.roll(both, (reach_y, reach_x), (1, 2))[:, : 2 * reach_y + 1, : 2 * reach_x + 1]
    values = (both[0] / np.maximum(both[1], 1.0)).astype(np.float32)
    nothing = values[reach_y, reach_x]
    if nothing > 0:
        values /= nothing
    return Likeness(values, _peaks(values))


def _quick(length: int) -> int:
    """The next length that is a product of 2, 3 and 5."""
    while True:
        rest = length
        for prime in (2, 3, 5):
            while rest % prime == 0:
                rest //= prime
        if rest == 1:
            return length
        length += 1


def _peaks(values: NDArray[np.float32], most: int = 160) -> Array:
    """The highest local tops of one half of the lags, to a share of a pixel."""
    inner = values[1:-1, 1:-1]
    top = np.ones(inner.shape, bool)
    high, wide = values.shape
    for i in (0, 1, 2):
        for j in (0, 1, 2):
            if (i, j) != (1, 1):
                top &= inner >= values[i : high - 2 + i, j : wide - 2 + j]
    y, x = np.nonzero(top)
    y, x = y + 1, x + 1
    down, right = y - high // 2, x - wide // 2
    keep = ((down > 0) | ((down == 0) & (right > 0))) & (np.hypot(down, right) >= LEAST_LAG)
    y, x = y[keep], x[keep]
    order = np.argsort(-values[y, x])[:most]
    y, x = y[order], x[order]
    here = values[y, x].astype(float)
    dx = vertex(values[y, x - 1], here, values[y, x + 1])
    dy = vertex(values[y - 1, x], here, values[y + 1, x])
    return np.stack([x - wide // 2 + dx, y - high // 2 + dy, here], 1)


def vertex(before: Array, here: Array, after: Array) -> Array:
    """How far (n,) the top of a parabola through three neighbouring heights lies from the middle one, at most half."""
    bend = before + after - 2 * here
    flat = bend > -1e-15
    return np.where(flat, 0.0, np.clip((before - after) / np.where(flat, -1.0, 2 * bend), -0.5, 0.5))


def first_basis(found: Likeness) -> Array:
    """Steps (2, 2), one a row as x, y in pixels: of all steps that lead to likeness throughout, the closest mesh.

    A step that leads to a near likeness only is taken here too, and told from a true one later, where the noise is
    known. Raises NoPrint.
    """
    peaks = found.peaks
    if not len(peaks) or peaks[0, 2] < _floor(found):
        raise NoPrint(PhotoCode.NO_PRINT_SEEN)
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
        raise NoPrint(PhotoCode.ONE_DIRECTION_ONLY)
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
