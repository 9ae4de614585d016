"""Where words fit in the lit area: the largest upright box of given proportions, clear of what must stay legible."""

from __future__ import annotations

import math
from collections.abc import Sequence

from projector.scene.boxes import Box, around
from projector.scene.marks import Point

GRID = (29, 17)
"""How many middles are tried along and across."""


def largest_box(
    width: float, depth: float, area: Sequence[Point], clear_of: Sequence[Box] = (), most: float = math.inf
) -> tuple[Box, float] | None:
    """The largest box of proportions ``width`` to ``depth`` inside the convex ``area`` and clear of the boxes.

    Returns the box in table inches and its size against (width, depth), at most ``most``; None when nothing fits.
    Of equally large ones the one nearest the middle of the area is taken.
    """
    edges = _inward_edges(area)
    xs, ys = [x for x, _ in area], [y for _, y in area]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    best: tuple[float, float, Point] | None = None
    for x in _steps(min(xs), max(xs), GRID[0]):
        for y in _steps(min(ys), max(ys), GRID[1]):
            size = min(
                _size_in(edges, (x, y), width, depth), *(_size_beside(b, (x, y), width, depth) for b in clear_of), most
            )
            candidate = (size, -math.dist((x, y), middle), (x, y))
            if size > 0 and (best is None or candidate > best):
                best = candidate
    if best is None:
        return None
    size, _, at = best
    return around(at, width * size, depth * size), size


def _steps(low: float, high: float, count: int) -> list[float]:
    return [low + (high - low) * (i + 0.5) / count for i in range(count)]


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


def _size_in(edges: list[tuple[float, float, float]], at: Point, width: float, depth: float) -> float:
    """How large a box centred at ``at`` can be: each edge n.p <= c allows (c - n.p) / (|nx| w/2 + |ny| d/2)."""
    x, y = at
    return min((c - nx * x - ny * y) / (abs(nx) * width / 2 + abs(ny) * depth / 2) for nx, ny, c in edges)


def _size_beside(box: Box, at: Point, width: float, depth: float) -> float:
    """How large a box centred at ``at`` can be before it touches ``box``: it may be clear along either axis."""
    x, y = at
    along = max(box.left - x, x - box.right, 0.0)
    across = max(box.near - y, y - box.far, 0.0)
    return max(along / (width / 2), across / (depth / 2))
