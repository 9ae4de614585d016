"""A lattice as the trade names it: repeat along, columns across, drop, turned by an angle."""

from __future__ import annotations

import math

import numpy as np

from jobs.model.numbers import simple_drop
from jobs.model.records import dataclass
from jobs.prints.photographs.level import View, levelled
from jobs.prints.photographs.opening import Array
from jobs.prints.photographs.plane import Plane, steps_of

MOST_TURN_DEG = 20.0
_TURN_COSTS_DEG = 6.0


@dataclass(frozen=True)
class Lattice:
    """Lengths in level pixels of the file; ``drop`` in [0, 1); the turn counter-clockwise. ``raw_drop`` is the drop as
    measured, between the two steps of ``plane``: it may be a hair below 0.

    ``plane`` leads from (repeats along, columns across) to pixels of the picture worked on, ``in_file`` (3, 3) to those
    of the file, ``level`` (3, 3) from there to level ones. Every ``_error`` is one standard error.
    """

    along: float
    across: float
    drop: float
    raw_drop: float
    angle_deg: float
    along_error: float
    across_error: float
    drop_error: float
    plane: Plane
    in_file: Array
    level: Array


def lattice_of(plane: Plane, to_file: Array, view: View) -> Lattice | None:
    """The lattice with its warp taken as the step nearest to upright that is not needlessly long; None without one.

    ``to_file`` (3, 3) leads from pixels of the picture worked on to those of the file, seen as ``view`` tells.
    """
    middle = Plane(to_file @ plane.matrix, plane.covariance).places(view.middle)
    change = _upright(_seen(plane.matrix, to_file, view, middle))
    if change is None:
        return None
    plane = plane.through(change)
    middle = np.asarray(np.linalg.solve(change.T, middle), np.float64)
    values = _measures(_seen(plane.matrix, to_file, view, middle))
    along_error, across_error, drop_error, _ = _errors(plane, to_file, view, middle)
    along, across, raw, angle = values
    drop = raw % 1.0
    near = simple_drop(drop, 3 * float(drop_error))
    drop = drop if near is None else float(near)
    in_file = to_file @ plane.matrix
    return Lattice(
        along, across, float(drop), float(raw), angle, float(along_error), float(across_error), float(drop_error),
        plane, in_file / in_file[2, 2], levelled(in_file, view),
    )  # fmt: skip


def _seen(matrix: Array, to_file: Array, view: View, place: Array, focal_px: float | None = None) -> Array:
    """The two steps (2, 2) in level pixels, at a place of the lattice."""
    in_file = to_file @ matrix
    return steps_of(levelled(in_file, view, focal_px) @ in_file, place)


def _errors(plane: Plane, to_file: Array, view: View, place: Array) -> Array:
    """Standard errors (4,) of along, across, drop and angle: from those of the plane and of the focal length."""
    slopes = np.empty((4, 9))
    for k in range(8):
        size = max(abs(plane.matrix.flat[k]), 1e-4) * 1e-5
        sides = []
        for sign in (1, -1):
            moved = plane.matrix.copy()
            moved.flat[k] += sign * size
            sides.append(_measures(_seen(moved, to_file, view, place)))
        slopes[:, k] = (sides[0] - sides[1]) / (2 * size)
    longer, shorter = (
        _measures(_seen(plane.matrix, to_file, view, place, view.focal_px * share)) for share in (1.01, 1 / 1.01)
    )
    slopes[:, 8] = (longer - shorter) / (2 * math.log(1.01))
    known = np.zeros((9, 9))
    known[:8, :8], known[8, 8] = plane.covariance, view.focal_error**2
    return np.sqrt(np.maximum(np.diag(slopes @ known @ slopes.T), 0))


def _measures(steps: Array) -> Array:
    """Along, across, drop and angle of steps (2, 2): the first down the warp, the second to the next column."""
    first, second = steps
    along = float(np.hypot(*first))
    across = (first[1] * second[0] - first[0] * second[1]) / along
    drop = float(first @ second) / along**2
    return np.array([along, across, drop, math.degrees(math.atan2(first[0], first[1]))])


def _upright(steps: Array) -> Array | None:
    """Whole numbers (2, 2) of the new steps in the old: downwards, then to the column on the right."""
    best, cost = None, math.inf
    for i in range(-7, 8):
        for j in range(-7, 8):
            if math.gcd(i, j) != 1:
                continue
            x, y = i * steps[0] + j * steps[1]
            turn = math.degrees(math.atan2(x, y))
            if abs(turn) > MOST_TURN_DEG:
                continue
            price = math.hypot(x, y) * (1 + (turn / _TURN_COSTS_DEG) ** 2)
            if price < cost:
                best, cost = (i, j), price
    if best is None:
        return None
    p, q = best
    for r in range(-9, 10):
        for s in range(-9, 10):
            if p * s - q * r in (1, -1):
                down, right = p * steps[0] + q * steps[1], r * steps[0] + s * steps[1]
                if down[1] * right[0] - down[0] * right[1] > 0:
                    times = round(float(right @ down / (down @ down)) - 0.25)
                    return np.array([(p, q), (r - times * p, s - times * q)], float)
    return None
