"""Cameras and light in one set of numbers: what they predict of each corner in each photograph, and the slopes of that.

The table's plane has coordinates of its own, known up to a similarity only: a pixel of the frame, freed from the lens
and written as ``q = (pixel - middle) / width``, lights ``X = (q_x + s q_y, t q_y) / (1 + a . q)``. Four numbers: of the
eight of a plane map a similarity takes four. ``t`` is below zero, unless a mirror swaps left and right. A camera sees
``[X, 0]`` turned and shifted, through a focal length, two radial terms (Brown 1971) and a principal point; lengths in
its picture are counted in long sides from the middle.
Sources: B. Triggs, "Autocalibration from planar scenes", ECCV 1998; B. Triggs and others, "Bundle adjustment - a modern
synthesis", 1999. Slopes by the chain rule; those of a turn by its left Jacobian.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.fitting import USUAL, LensPrior
from calibration.lens import Lens
from calibration.photographs.pattern import Pattern
from calibration.photographs.sighting import Sighting

Array = NDArray[np.float64]

SHAPE, LENS, CAMERA, POSE = 4, 4, 5, 7
"""How many numbers: s, t, a; k1, k2, decentring; log focal, principal point, k1, k2; turn, shift, log of its focus."""
LIGHT = SHAPE + LENS
CAMERA_WIDTHS = (0.0075, 0.0075, 0.1, 0.1)
"""What is known of a camera beside the photographs, about nothing: its principal point (30 px of 4032), k1, k2."""
FOCUS_WIDTH = 0.0007
"""Focusing anew changes the focal length by about so much of itself.

A lens of focal length f that is focused on d stands f / d of itself farther out (the thin lens equation): a telephone's
of 6 mm 4 thousandths at 1.5 m, 2.4 at 2.5 m. Photographs of one table are from more alike distances (a setting).
"""


@dataclass(frozen=True)
class Layout:
    """Where each number stands: those of the light first, then of each camera, then of each photograph."""

    cameras: int
    camera_of: tuple[int, ...]

    @classmethod
    def of(cls, sightings: Sequence[Sighting]) -> Layout:
        """Photographs of one camera, zoom and size share a camera."""
        names = [(one.camera, one.long_px, min(one.width_px, one.height_px)) for one in sightings]
        different = list(dict.fromkeys(names))
        return cls(len(different), tuple(different.index(name) for name in names))

    @property
    def count(self) -> int:
        return LIGHT + CAMERA * self.cameras + POSE * len(self.camera_of)

    def camera(self, photograph: int) -> slice:
        start = LIGHT + CAMERA * self.camera_of[photograph]
        return slice(start, start + CAMERA)

    def pose(self, photograph: int) -> slice:
        start = LIGHT + CAMERA * self.cameras + POSE * photograph
        return slice(start, start + POSE)


def lens_of(values: Array, pattern: Pattern) -> Lens:
    """The projector's lens."""
    k1, k2, p_x, p_y = values[SHAPE:LIGHT].tolist()
    plain = Lens.for_frame(pattern.width_px, pattern.height_px, k1, k2)
    return Lens(k1, k2, plain.centre_px, plain.focal_px, (p_x, p_y))


def plane_of(values: Array) -> Array:
    """The map (3, 3) from q to X."""
    s, t, a_x, a_y = values[:SHAPE].tolist()
    return np.array([[1.0, s, 0.0], [0.0, t, 0.0], [a_x, a_y, 1.0]])


def places(values: Array, pattern: Pattern, pixels: Array) -> tuple[Array, Array]:
    """Places X (N, 2) that pixels (N, 2) of the frame light, and their slopes (N, 2, 8) by shape and lens."""
    lens = lens_of(values, pattern)
    ideal = lens.undo(pixels)
    by_lens = -np.linalg.solve(lens.jacobian(ideal), lens.by_terms(ideal)) / pattern.width_px
    q = (ideal - np.array(lens.centre_px)) / pattern.width_px
    s, t, a_x, a_y = values[:SHAPE].tolist()
    below = 1 / (1 + q @ (a_x, a_y))
    x = np.column_stack([q[:, 0] + s * q[:, 1], t * q[:, 1]]) * below[:, None]
    by_shape = np.zeros((len(q), 2, SHAPE))
    by_shape[:, 0, 0] = by_shape[:, 1, 1] = q[:, 1] * below
    by_shape[:, :, 2:] = -x[:, :, None] * q[:, None, :] * below[:, None, None]
    by_q = (np.array([[1.0, s], [0.0, t]]) - x[:, :, None] * np.array([a_x, a_y])) * below[:, None, None]
    return x, np.concatenate([by_shape, by_q @ by_lens], axis=2)


def cross_matrix(vector: Array) -> Array:
    """The matrix (..., 3, 3) that multiplies as the cross product with a vector (..., 3) does."""
    x, y, z = np.moveaxis(vector, -1, 0)
    zero = np.zeros_like(x)
    return np.stack([np.stack([zero, -z, y], -1), np.stack([z, zero, -x], -1), np.stack([-y, x, zero], -1)], -2)


def turned(vector: Array) -> tuple[Array, Array]:
    """The turn (3, 3) about a vector (3,) by its length, and its left Jacobian (3, 3)."""
    angle = float(np.linalg.norm(vector))
    cross = cross_matrix(vector)
    if angle < 1e-8:
        return np.eye(3) + cross, np.eye(3) + cross / 2
    one, two = (1 - np.cos(angle)) / angle**2, (angle - np.sin(angle)) / angle**3
    return np.eye(3) + np.sin(angle) / angle * cross + one * cross @ cross, np.eye(
        3
    ) + one * cross + two * cross @ cross


def seen(camera: Array, pose: Array, x: Array) -> tuple[Array, Array, Array, Array]:
    """Where (N, 2) a camera sees plane places X (N, 2), and the slopes by X, camera and pose.

    Lengths in the picture are counted in long sides from its middle.
    """
    turn, left = turned(pose[:3])
    away = x @ turn[:, :2].T
    point = away + pose[3:6]
    ahead = point[:, 2:]
    xy = point[:, :2] / ahead
    r2 = (xy * xy).sum(axis=1)
    log_focal, _, _, k1, k2 = camera.tolist()
    focal = np.exp(log_focal + pose[6])
    bend = 1 + r2 * (k1 + k2 * r2)
    bent = focal * bend[:, None] * xy
    by_xy = focal * (
        bend[:, None, None] * np.eye(2) + (2 * (k1 + 2 * k2 * r2))[:, None, None] * xy[:, :, None] * xy[:, None, :]
    )
    by_point = (
        by_xy
        @ np.concatenate([np.broadcast_to(np.eye(2), (len(x), 2, 2)), -xy[:, :, None]], axis=2)
        / ahead[:, :, None]
    )
    by_camera = np.zeros((len(x), 2, CAMERA))
    by_camera[:, :, 0] = bent
    by_camera[:, 0, 1] = by_camera[:, 1, 2] = 1.0
    by_camera[:, :, 3] = focal * r2[:, None] * xy
    by_camera[:, :, 4] = focal * (r2**2)[:, None] * xy
    by_pose = np.concatenate([by_point @ -cross_matrix(away) @ left, by_point, bent[:, :, None]], axis=2)
    return bent + camera[1:3], by_point @ turn[:, :2], by_camera, by_pose


class Model:
    """All photographs of one light; residuals are counted in ``sigma_px``, pixels of each photograph."""

    def __init__(self, pattern: Pattern, sightings: Sequence[Sighting], prior: LensPrior = USUAL) -> None:
        self.pattern, self.sightings, self.prior = pattern, tuple(sightings), prior
        self.layout = Layout.of(sightings)
        self._corners = pattern.corners_px

    def __call__(self, values: Array, sigma_px: float) -> tuple[Array, Array]:
        """Residuals (M,) of all corners, then of what is known beforehand, and their slopes (M, P)."""
        x, by_light = places(values, self.pattern, self._corners)
        missed, slopes = [], []
        for number, one in enumerate(self.sightings):
            camera, pose = self.layout.camera(number), self.layout.pose(number)
            at, by_x, by_camera, by_pose = seen(values[camera], values[pose], x[one.numbers])
            scale = one.long_px / sigma_px
            missed.append((scale * at - (one.pixels - one.middle_px) / sigma_px).ravel())
            rows = np.zeros((len(at), 2, self.layout.count))
            rows[:, :, :LIGHT] = by_x @ by_light[one.numbers]
            rows[:, :, camera], rows[:, :, pose] = by_camera, by_pose
            slopes.append(scale * rows.reshape(-1, self.layout.count))
        widths = self.widths(values)
        known = np.flatnonzero(np.isfinite(widths))
        missed.append(values[known] / widths[known])
        before = np.zeros((len(known), self.layout.count))
        before[np.arange(len(known)), known] = 1 / widths[known]
        return np.concatenate(missed), np.concatenate([*slopes, before])

    def widths(self, values: Array) -> Array:
        """Standard uncertainties (P,) about nothing that numbers have before any photograph; inf where none."""
        widths = np.full(self.layout.count, np.inf)
        widths[SHAPE:LIGHT] = self.prior.widths(max(self.prior.k1, abs(float(values[SHAPE]))) ** 2)
        for number in range(len(self.sightings)):
            widths[self.layout.camera(number)][1:] = CAMERA_WIDTHS
            widths[self.layout.pose(number)][6] = FOCUS_WIDTH
        return widths
