"""Contours of a height on a grid: where it passes a level, and the part above it (marching squares)."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Point = tuple[float, float]
Line = tuple[Point, ...]

_EDGES = ((0, 1), (1, 2), (2, 3), (3, 0))


def contour(heights: Array, level: float) -> tuple[Line, ...]:
    """Lines along which ``heights`` (rows, columns) equals ``level``, as (column, row) grid places.

    Cells with a corner that is not finite are left out. Method: W. Lorensen and H. Cline, "Marching cubes", Computer
    Graphics 21 (1987), in the plane; a saddle is settled by the mean of its corners.
    """
    ends: dict[tuple[int, ...], list[tuple[int, ...]]] = {}
    places: dict[tuple[int, ...], Point] = {}
    for row in range(heights.shape[0] - 1):
        for column in range(heights.shape[1] - 1):
            for first, second in _cell(heights, level, row, column, places):
                ends.setdefault(first, []).append(second)
                ends.setdefault(second, []).append(first)
    return tuple(tuple(places[key] for key in chain) for chain in _chains(ends))


def above(heights: Array, level: float) -> tuple[Line, ...]:
    """Polygons, as (column, row) grid places, that cover where ``heights`` is at least ``level``; no two overlap."""
    found: list[Line] = []
    for row in range(heights.shape[0] - 1):
        full: list[int] = []
        for column in range(heights.shape[1] - 1):
            corners = _corners(row, column)
            values = [float(heights[y, x]) for x, y in corners]
            if np.isfinite(values).all() and min(values) >= level:
                full.append(column)
                continue
            found += _strip(full, row)
            full = []
            if np.isfinite(values).all() and max(values) >= level:
                found.append(_part(corners, values, level))
        found += _strip(full, row)
    return tuple(found)


def _corners(row: int, column: int) -> tuple[tuple[int, int], ...]:
    return ((column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1))


def _cell(
    heights: Array, level: float, row: int, column: int, places: dict[tuple[int, ...], Point]
) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """The one or two pieces of the contour in a cell, as pairs of grid edges; notes where each edge is crossed."""
    corners = _corners(row, column)
    values = [float(heights[y, x]) for x, y in corners]
    if not np.isfinite(values).all():
        return []
    crossed = []
    for a, b in _EDGES:
        if (values[a] >= level) != (values[b] >= level):
            low, high = sorted((corners[a], corners[b]))
            key = (*low, *high)
            places[key] = _between(corners[a], corners[b], values[a], values[b], level)
            crossed.append(key)
    if len(crossed) == 4 and (sum(values) / 4 >= level) == (values[0] >= level):
        return [(crossed[0], crossed[1]), (crossed[2], crossed[3])]
    if len(crossed) == 4:
        return [(crossed[3], crossed[0]), (crossed[1], crossed[2])]
    return [(crossed[0], crossed[1])] if crossed else []


def _between(a: tuple[int, int], b: tuple[int, int], at_a: float, at_b: float, level: float) -> Point:
    share = (level - at_a) / (at_b - at_a)
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _part(corners: tuple[tuple[int, int], ...], values: list[float], level: float) -> Line:
    """The part of one cell above the level."""
    points: list[Point] = []
    for a, b in _EDGES:
        if values[a] >= level:
            points.append((float(corners[a][0]), float(corners[a][1])))
        if (values[a] >= level) != (values[b] >= level):
            points.append(_between(corners[a], corners[b], values[a], values[b], level))
    return tuple(points)


def _strip(columns: list[int], row: int) -> list[Line]:
    """Whole cells beside each other in one polygon, with a point at every grid place."""
    if not columns:
        return []
    across = range(columns[0], columns[-1] + 2)
    return [(*((float(x), float(row)) for x in across), *((float(x), float(row + 1)) for x in reversed(across)))]


def _chains(ends: dict[tuple[int, ...], list[tuple[int, ...]]]) -> list[list[tuple[int, ...]]]:
    """Pieces joined end to end, open lines first so that each is followed from one of its ends."""
    left = {key: list(others) for key, others in ends.items()}
    chains = []
    for start in sorted(left, key=lambda key: (len(left[key]) != 1, key)):
        while left[start]:
            chain = [start]
            while left[chain[-1]]:
                following = left[chain[-1]].pop()
                left[following].remove(chain[-1])
                chain.append(following)
            chains.append(chain)
    return chains
