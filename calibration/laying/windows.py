"""How far one picture shows what another one does, window by window.

Around each middle the two are compared by their slopes (B. Lucas and T. Kanade, IJCAI 1981), freed of their local mean
and brought to one local spread before.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.laying.grids import COARSER, slope, spread_out, window_sums

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

FLOOR_IN = 0.004
"""No window is known better than this."""
GAINS = (0.05, 1.2)
"""How much of the one may be seen in the other."""
LEAST_NOISE = 1e-4


@dataclass(frozen=True, eq=False)
class Pair:
    """Two pictures made even, ``seen`` and ``drawn`` (rows, columns, ``per_in`` points an inch), ``left``: what of the
    first the second leaves over, and how far a point is to be trusted. ``window`` is the spread of a window in points;
    so many points as ``independent`` says count as one that is."""

    seen: Picture
    drawn: Picture
    left: Picture
    trust: Picture
    per_in: float
    window: float
    independent: float


def even(picture: Picture, trust: Picture, weight: Picture, window: float) -> tuple[Picture, Picture]:
    """The picture freed of its local mean and brought to a local spread of 1; and that spread, coarse, as it was."""
    off = picture - spread_out(window_sums(trust * picture, window) / weight, picture.shape)
    spread = np.sqrt(np.maximum(window_sums(trust * off * off, window) / weight, 1e-6))
    return np.asarray(np.clip(off / spread_out(spread, picture.shape), -4, 4), np.float32), spread


def middles(shape: tuple[int, ...], step: float) -> NDArray[np.intp]:
    """Middles (N, 2) of windows on the coarse grid of a picture, about ``step`` points apart."""
    lines = [
        np.linspace(0.35 * step, n - 1 - 0.35 * step, max(2, round(n / step))).astype(int) // COARSER for n in shape
    ]
    return np.stack(np.meshgrid(*lines, indexing="ij"), axis=-1).reshape(-1, 2)


def at_middles(picture: Picture, at: NDArray[np.intp]) -> Array:
    """A coarse picture (N,) at middles of windows."""
    return picture[at[:, 0], at[:, 1]].astype(np.float64)


def moves(pair: Pair, at: NDArray[np.intp], axes: tuple[int, int]) -> tuple[Array, Array]:
    """How far (N, 2) from each middle what is drawn there is seen, inches along ``axes`` of the picture (1: along its
    rows), and how surely: inverse covariances (N, 2, 2)."""
    steps = [slope(pair.drawn, axis, pair.per_in) for axis in axes]

    def sums(picture: Picture) -> Array:
        return at_middles(window_sums(pair.trust * picture, pair.window), at)

    gain = np.clip(sums(pair.seen * pair.drawn) / np.maximum(sums(pair.drawn * pair.drawn), 1e-6), *GAINS)
    noise = sums(pair.left * pair.left) / np.maximum(sums(np.ones_like(pair.left)), 1e-6)
    noise = np.maximum(noise, LEAST_NOISE)
    a, b, c = (sums(steps[i] * steps[j]) for i, j in ((0, 0), (0, 1), (1, 1)))
    curve = np.stack([np.stack([a, b], -1), np.stack([b, c], -1)], -2) * (gain**2 / noise)[:, None, None]
    pull = -np.stack([sums(step * pair.left) for step in steps], -1) * (gain / noise)[:, None]
    moved = np.linalg.solve(curve + 1e-3 * np.eye(2), pull[..., None])[..., 0]
    # A bell's sum over its points, as of independent ones.
    knows = curve * (4 * np.pi * pair.window**2 / pair.independent)
    return np.asarray(moved), np.asarray(np.linalg.solve(np.eye(2) + FLOOR_IN**2 * knows, knows))
