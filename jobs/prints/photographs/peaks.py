"""The places where a picture comes again: peaks of its autocorrelation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from jobs.prints.photographs.opening import Pixels

Array = NDArray[np.float64]
MOST_LAG = 0.62
"""Share of the picture a repeat may take: nearly two of them must be seen."""
LEAST_LAG = 5


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
    dx = _vertex(values[y, x - 1], here, values[y, x + 1])
    dy = _vertex(values[y - 1, x], here, values[y + 1, x])
    return np.stack([x - wide // 2 + dx, y - high // 2 + dy, here], 1)


def _vertex(before: NDArray[np.float32], here: Array, after: NDArray[np.float32]) -> Array:
    bend = before + after - 2 * here
    return np.where(bend < -1e-12, np.clip((before - after) / (2 * np.minimum(bend, -1e-12)), -0.5, 0.5), 0.0)
