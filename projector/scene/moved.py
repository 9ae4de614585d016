"""A scene moved over the table: by hand, or to where the cloth really lies."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from projector.scene.marks import Hatch, Mark, Point, Scene, Stroke

Affine = tuple[tuple[float, float, float], tuple[float, float, float]]
_Way = Callable[[Sequence[Point]], tuple[Point, ...]]


def moved(scene: Scene, affine: Affine) -> Scene:
    """The scene with every point (x, y) taken to (a x + b y + c, d x + e y + f), for rows (a, b, c) and (d, e, f).

    Letters turn with their baseline and grow with the square root of the area factor; they are never mirrored.
    Raises ValueError when the map flattens or mirrors the scene.
    """
    (a, b, c), (d, e, f) = affine
    area = a * e - b * d
    if not area > 0:
        raise ValueError("a scene can be moved, turned and stretched, not mirrored or flattened")
    turn_deg, scale = math.degrees(math.atan2(d, a)), math.sqrt(area)

    def to(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple([(a * x + b * y + c, d * x + e * y + f) for x, y in points])

    return Scene(tuple(_moved_mark(mark, to, turn_deg, scale) for mark in scene.marks))


def turned_about(middle: Point, turn_deg: float, shift: Point) -> Affine:
    """The map that turns counter-clockwise about ``middle`` and then shifts, in inches."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    x, y = middle
    return (
        (cos, -sin, x - cos * x + sin * y + shift[0]),
        (sin, cos, y - sin * x - cos * y + shift[1]),
    )


def _moved_mark(mark: Mark, to: _Way, turn_deg: float, scale: float) -> Mark:
    if isinstance(mark, Stroke):
        return Stroke(mark.kind, to(mark.points))
    if isinstance(mark, Hatch):
        return replace(mark, outline=to(mark.outline))
    (at,) = to([mark.at])
    return replace(mark, at=at, height=mark.height * scale, turn_deg=mark.turn_deg + turn_deg)
