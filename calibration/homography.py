"""Plane-to-plane maps: estimate, apply, invert.

Sources: R. Hartley and A. Zisserman, *Multiple View Geometry in Computer Vision*, 2nd ed., Cambridge 2004:
2.3 (planar projective maps), 4.1 (direct linear transform), 4.4 (normalisation), 4.5 (refinement).

A matrix and its negative are the same map, so a matrix alone does not tell which side of its horizon is meant.
``side`` does: the sign of the denominator on the side in use, +1 unless the origin lies beyond the horizon.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.least_squares import minimise

Array = NDArray[np.float64]

HORIZON_SHARE = 1e-9
"""A denominator smaller than this share of its own terms is taken as zero: their rounding is about 1e-16 each."""


class OutOfReach(ValueError):  # noqa: N818
    """Some points have no image under the map. ``points`` holds their indices, counted from 0."""

    reason = "out of reach of the light"

    def __init__(self, points: tuple[int, ...]) -> None:
        self.points = points
        shown = ", ".join(str(index) for index in points[:5]) + (", ..." if len(points) > 5 else "")
        super().__init__(f"{self.reason}: point {shown}")


class BeyondHorizon(OutOfReach):
    """The points lie on or behind the line that the map sends to infinity."""

    reason = "on or beyond the horizon of the map"


class BeyondLens(OutOfReach):
    """The points lie so far out that the radial lens term folds back on itself."""

    reason = "outside the field the lens term describes"


class OriginOnHorizon(ValueError):  # noqa: N818
    """The map sends the origin to infinity, so its matrix cannot be scaled to a last entry of 1."""


def points_of(points: ArrayLike) -> Array:
    """Any array-like of pairs as a float array (N, 2)."""
    return np.asarray(points, dtype=np.float64).reshape(-1, 2)


def denominators(matrix: Array, points: ArrayLike) -> Array:
    """Denominators (N,) of the map at ``points`` (N, 2), with rounding-sized values set to exactly 0."""
    xy = points_of(points)
    value = np.asarray(xy @ matrix[2, :2] + matrix[2, 2], dtype=np.float64)
    size = np.abs(xy) @ np.abs(matrix[2, :2]) + abs(matrix[2, 2])
    value[np.abs(value) <= HORIZON_SHARE * size] = 0.0
    return value


def apply(matrix: Array, points: ArrayLike, side: float = 1.0) -> Array:
    """Images (N, 2) of ``points`` (N, 2).

    Raises ``BeyondHorizon`` where the denominator is zero or has the other sign than ``side``; it is never nudged.
    """
    xy = points_of(points)
    below = denominators(matrix, xy)
    lost = ~(below * side > 0)
    if lost.any():
        raise BeyondHorizon(tuple(int(index) for index in np.flatnonzero(lost)))
    image: Array = (xy @ matrix[:2, :2].T + matrix[:2, 2]) / below[:, None]
    return image


def inverse(matrix: Array) -> Array:
    """The matrix back (3, 3), not rescaled: so the same ``side`` holds for it. Raises ``LinAlgError`` when singular."""
    return np.asarray(np.linalg.inv(matrix), dtype=np.float64)


def normalise(matrix: Array) -> Array:
    """The same map with a last entry of 1.

    Raises ``OriginOnHorizon`` when that entry is zero (the origin then maps to infinity): move the origin to a
    point that is lit, for instance one of the marks, and fit again.
    """
    last = denominators(matrix, [(0.0, 0.0)])[0]
    if last == 0.0 or abs(last) <= 1e-12 * np.abs(matrix).max():
        raise OriginOnHorizon("the origin lies on the horizon of the map; measure from a point that is lit")
    return matrix / last


def jacobian(matrix: Array, points: ArrayLike) -> Array:
    """Derivatives (N, 2, 2) of the image by the point: row the image's coordinate, column the point's."""
    xy = points_of(points)
    below = denominators(matrix, xy)
    image = (xy @ matrix[:2, :2].T + matrix[:2, 2]) / below[:, None]
    return (matrix[None, :2, :2] - image[:, :, None] * matrix[None, None, 2, :2]) / below[:, None, None]


def sensitivity(matrix: Array, points: ArrayLike) -> Array:
    """Derivatives (N, 2, 8) of the image by the first eight entries of the matrix, row by row (H&Z 4.1)."""
    xy = points_of(points)
    below = denominators(matrix, xy)
    image = (xy @ matrix[:2, :2].T + matrix[:2, 2]) / below[:, None]
    over = np.column_stack([xy, np.ones(len(xy))]) / below[:, None]
    slopes = np.zeros((len(xy), 2, 8))
    slopes[:, 0, 0:3] = over
    slopes[:, 1, 3:6] = over
    slopes[:, :, 6:8] = -image[:, :, None] * over[:, None, :2]
    return slopes


def similarity(points: ArrayLike) -> Array:
    """Shift and scale (3, 3) that bring ``points`` (N, 2) to middle 0 and mean distance sqrt 2 (H&Z 4.4)."""
    xy = points_of(points)
    middle = xy.mean(axis=0)
    spread = np.hypot(*(xy - middle).T).mean()
    scale = np.sqrt(2.0) / spread
    return np.array([[scale, 0.0, -scale * middle[0]], [0.0, scale, -scale * middle[1]], [0.0, 0.0, 1.0]])


def direct(source: Array, target: Array) -> Array:
    """The direct linear transform (3, 3) of normalised point pairs, scaled to a last entry of 1.

    The middle of the sources is the origin here and lies among them, so for points of one side that entry is not 0.
    """
    count = len(source)
    lifted = np.column_stack([source, np.ones(count)])
    rows = np.zeros((2 * count, 9))
    rows[0::2, 0:3] = lifted
    rows[1::2, 3:6] = lifted
    rows[0::2, 6:9] = -target[:, 0:1] * lifted
    rows[1::2, 6:9] = -target[:, 1:2] * lifted
    found = np.linalg.svd(rows)[2][-1].reshape(3, 3)
    return normalise(found)


def estimate(source: ArrayLike, target: ArrayLike) -> Array:
    """The map (3, 3) from ``source`` (N, 2) to ``target`` (N, 2), N >= 4: exact for four pairs, else least squares.

    Least are the summed squared distances in the target's unit. The denominators are positive at the sources;
    see ``normalise`` for a last entry of 1. Raises ``BeyondHorizon`` when the direct solution folds between the
    sources, naming those behind its horizon.
    """
    source, target = points_of(source), points_of(target)
    if len(source) != len(target) or len(source) < 4:
        raise ValueError("four or more pairs are needed, as many sources as targets")
    to_source, to_target = similarity(source), similarity(target)
    from_points, to_points = apply(to_source, source), apply(to_target, target)
    middle = direct(from_points, to_points)
    apply(middle, from_points)
    if len(source) > 4:
        middle = _refined(middle, from_points, to_points)
    return np.linalg.inv(to_target) @ middle @ to_source


def _refined(matrix: Array, source: Array, target: Array) -> Array:
    """The matrix (last entry 1) that makes the squared distances to ``target`` least, from a first guess."""

    def model(values: Array) -> tuple[Array, Array]:
        trial = np.append(values, 1.0).reshape(3, 3)
        try:
            image = apply(trial, source)
        except BeyondHorizon as beyond:
            raise ArithmeticError from beyond
        return (image - target).ravel(), sensitivity(trial, source).reshape(-1, 8)

    return np.append(minimise(model, matrix.ravel()[:8]), 1.0).reshape(3, 3)


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
