"""Where words may stand: lit, and surely on the table."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calibration.homography import clip_half_plane
from calibration.marks import tables_of
from calibration.table import Table
from projector.scene.marks import Point

EDGE_SHARE = 0.03
"""Words keep off the edge by this share of the way to the middle."""

Array = NDArray[np.float64]


def words_area(table: Table) -> tuple[Point, ...]:
    """The convex part of the table plane, inches, between the marks and inside the light, drawn in a little.

    Light may fall beside the table; the marks stand on it. Without marks: all of the lit area.
    """
    outline = table.lit_area()
    around = _hull(tables_of(table.marks))
    between = outline
    for start, end in zip(around, np.roll(around, -1, axis=0), strict=True):
        # Left of each edge, going counter-clockwise: n . (p - start) >= 0 with n = (-dy, dx).
        normal = np.array([start[1] - end[1], end[0] - start[0]])
        between = clip_half_plane(between, np.array([*normal, -normal @ start]))
    area = between if len(between) >= 3 else outline
    inside = area.mean(axis=0) + (1 - EDGE_SHARE) * (area - area.mean(axis=0))
    return tuple((float(x), float(y)) for x, y in inside)


def _hull(points: Array) -> Array:
    """Corners (M, 2) of the convex hull of ``points`` (N, 2), counter-clockwise; none of fewer than three.

    Method: A. M. Andrew, Information Processing Letters 9 (1979), monotone chain.
    """
    ordered = sorted({(float(x), float(y)) for x, y in points})
    if len(ordered) < 3:
        return np.zeros((0, 2))
    return np.array(_chain(ordered)[:-1] + _chain(ordered[::-1])[:-1])


def _chain(points: list[Point]) -> list[Point]:
    chain: list[Point] = []
    for x, y in points:
        while len(chain) >= 2:
            (ax, ay), (bx, by) = chain[-2:]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            chain.pop()
        chain.append((x, y))
    return chain
