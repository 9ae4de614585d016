"""Where words fit in the lit area: the largest upright box of given proportions, clear of what must stay legible."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from projector.scene.boxes import Box, around
from projector.scene.marks import Point

GRID = (29, 17)
"""How many middles are tried along and across."""

Array = NDArray[np.float64]


def largest_box(
    width: float, depth: float, area: Sequence[Point], clear_of: Sequence[Box] = (), most: float = math.inf
) -> tuple[Box, float] | None:
    """The largest box of proportions ``width`` to ``depth`` inside the convex ``area`` and clear of the boxes.

    Returns the box in table inches and its size against (width, depth), at most ``most``; None when nothing fits.
    Of equally large ones the one nearest the middle of the area is taken.
    """
    xs, ys = [x for x, _ in area], [y for _, y in area]
    x, y = (steps.ravel() for steps in np.meshgrid(_steps(xs, GRID[0]), _steps(ys, GRID[1]), indexing="ij"))
    size = np.minimum(_size_in(area, x, y, width, depth), most)
    if clear_of:
        size = np.minimum(size, _size_beside(clear_of, x, y, width, depth))
    best = float(size.max())
    if not best > 0:
        return None
    away = np.hypot(x - (min(xs) + max(xs)) / 2, y - (min(ys) + max(ys)) / 2)
    # Of places as far from the middle, the last: farthest to the right, then farthest from the person.
    at = np.lexsort((y, x, -away, size))[-1]
    return around((float(x[at]), float(y[at])), width * best, depth * best), best


def _steps(along: Sequence[float], count: int) -> Array:
    low, high = min(along), max(along)
    return low + (high - low) * (np.arange(count) + 0.5) / count


def _size_in(area: Sequence[Point], x: Array, y: Array, width: float, depth: float) -> Array:
    """How large a box centred at each (x, y) can be inside the convex area.

    Each of its sides n.p <= c allows (c - n.p) / (|nx| w/2 + |ny| d/2).
    """
    edges = np.array(_inward_edges(area))
    nx, ny, reach = edges.T[:, :, None]
    return np.asarray(((reach - nx * x - ny * y) / (np.abs(nx) * width / 2 + np.abs(ny) * depth / 2)).min(axis=0))


def _size_beside(boxes: Sequence[Box], x: Array, y: Array, width: float, depth: float) -> Array:
    """How large a box centred at each (x, y) can be before it touches one of ``boxes``, clear along either axis."""
    left, near, right, far = np.array([(box.left, box.near, box.right, box.far) for box in boxes]).T[:, :, None]
    along = np.maximum(np.maximum(left - x, x - right), 0.0)
    across = np.maximum(np.maximum(near - y, y - far), 0.0)
    return np.asarray(np.maximum(along / (width / 2), across / (depth / 2)).min(axis=0))


def _inward_edges(area: Sequence[Point]) -> list[tuple[float, float, float]]:
    """Lines (nx, ny, c) with nx x + ny y <= c inside, of a convex polygon in either order."""
    twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(area, [*area[1:], area[0]], strict=True))
    sign = 1.0 if twice > 0 else -1.0
    edges = []
    for (x0, y0), (x1, y1) in zip(area, [*area[1:], area[0]], strict=True):
        nx, ny = sign * (y1 - y0), -sign * (x1 - x0)
        if nx or ny:
            edges.append((nx, ny, nx * x0 + ny * y0))
    return edges
