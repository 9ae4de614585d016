"""Polygons cut off at a rectangle (Sutherland & Hodgman, "Reentrant polygon clipping", CACM 17, 1974)."""

from __future__ import annotations

from projector.papers.drawing import Point


def clipped(points: tuple[Point, ...], left: float, upper: float, right: float, lower: float) -> tuple[Point, ...]:
    """The part of a polygon inside a rectangle; empty when none is."""
    for axis, limit, sign in ((0, left, 1), (0, right, -1), (1, upper, 1), (1, lower, -1)):
        points = _half(points, axis, limit, sign)
    return points


def _half(points: tuple[Point, ...], axis: int, limit: float, sign: int) -> tuple[Point, ...]:
    kept: list[Point] = []
    for here, before in zip(points, points[-1:] + points[:-1], strict=True):
        inside, came_inside = (sign * (p[axis] - limit) >= 0 for p in (here, before))
        if inside != came_inside:
            share = (limit - before[axis]) / (here[axis] - before[axis])
            kept.append((before[0] + share * (here[0] - before[0]), before[1] + share * (here[1] - before[1])))
        if inside:
            kept.append(here)
    return tuple(kept)
