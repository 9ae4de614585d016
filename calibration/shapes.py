"""Plain facts about a handful of points in a plane: in line, turning left or right, clipped."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


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


def clip_half_plane(polygon: Array, keep: Array) -> Array:
    """The part (M, 2) of a convex ``polygon`` (N, 2) where ``keep[0] x + keep[1] y + keep[2] >= 0``.

    Method: I. Sutherland and G. Hodgman, Communications of the ACM 17 (1974).
    """
    height = polygon @ keep[:2] + keep[2]
    kept: list[Array] = []
    for index, (point, here) in enumerate(zip(polygon, height, strict=True)):
        following, there = polygon[(index + 1) % len(polygon)], height[(index + 1) % len(polygon)]
        if here >= 0:
            kept.append(point)
        if (here >= 0) != (there >= 0):
            kept.append(point + (following - point) * (here / (here - there)))
    return np.array(kept, dtype=np.float64).reshape(-1, 2)
