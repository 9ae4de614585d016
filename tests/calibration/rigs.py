"""Invented projectors over invented tables: the truth is known, so errors can be measured."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calibration.homography import apply, normalise
from calibration.marks import Mark

Array = NDArray[np.float64]
WIDTH_PX, HEIGHT_PX = 1920, 1080


def random_rig(rng: np.random.Generator, tilt_deg: float = 25.0, mirrored: bool = False) -> Array:
    """Table inch to pixel (3, 3): a projector over a table, throw ratio 1.1 to 2, turned and tilted at random."""
    height = rng.uniform(70, 120)
    focal = WIDTH_PX * rng.uniform(1.1, 2.0)
    tilt, turn = np.radians(rng.uniform(0, tilt_deg)), rng.uniform(-np.pi, np.pi)
    roll = np.radians(rng.uniform(-8, 8))
    axis = np.array([np.cos(turn), np.sin(turn), 0.0])
    cross = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    lean = np.eye(3) + np.sin(tilt) * cross + (1 - np.cos(tilt)) * cross @ cross
    spin = np.array([[np.cos(roll), -np.sin(roll), 0], [np.sin(roll), np.cos(roll), 0], [0, 0, 1]])
    down = np.diag([-1.0 if mirrored else 1.0, -1.0, -1.0])
    turned = spin @ down @ lean
    aim = np.array([rng.uniform(20, 60), rng.uniform(10, 40)])
    plane = np.column_stack([turned[:, 0], turned[:, 1], turned @ np.array([-aim[0], -aim[1], -height])])
    lens = np.array([[focal, 0, WIDTH_PX / 2], [0, focal, HEIGHT_PX / 2], [0, 0, 1]])
    return normalise(lens @ plane)


def side_of(matrix: Array) -> float:
    """Sign of the denominator where the light is (the table's zero may lie beyond the horizon, seldom)."""
    back = np.linalg.inv(matrix)
    return float(np.sign(back[2] @ [WIDTH_PX / 2, HEIGHT_PX / 2, 1.0]))


def lit(matrix: Array, pixels: Array) -> Array:
    """Table points (N, 2) that the pixels light."""
    return apply(np.linalg.inv(matrix), pixels, side_of(matrix))


CORNERS = np.array([(0.08, 0.1), (0.92, 0.1), (0.92, 0.9), (0.08, 0.9)]) * (WIDTH_PX, HEIGHT_PX)


def marks_at(matrix: Array, pixels: Array) -> tuple[Mark, ...]:
    """Perfect marks where the pixels fall."""
    return marks_of(lit(matrix, pixels), pixels)


def marks_of(points_in: Array, pixels: Array) -> tuple[Mark, ...]:
    """Marks from table points (N, 2) and pixels (N, 2)."""
    return tuple(
        Mark((float(x), float(y)), (float(u), float(v))) for (x, y), (u, v) in zip(points_in, pixels, strict=True)
    )
