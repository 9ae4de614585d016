"""A first guess at cameras and light, good enough to refine: from the plane maps of the photographs alone.

A camera of focal length f sees the plane through a map whose first two columns, freed from f, are at right angles and
equally long: two equations a photograph (Z. Zhang, PAMI 22, 2000; B. Triggs, ECCV 1998, where the plane's own shape is
unknown too). Four numbers of the plane and one focal length a camera solve them, from a few starts.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from calibration import homography
from calibration.photographs.model import LIGHT, SHAPE, Layout, plane_of
from calibration.photographs.pattern import Pattern
from calibration.photographs.sighting import Sighting

Array = NDArray[np.float64]

FOCAL_SHARES = (0.75, 0.55, 1.1, 1.7)
"""Focal lengths in long sides of the picture to start from: a telephone's usual lens, wide, twice, zoomed."""


def first_guess(pattern: Pattern, sightings: Sequence[Sighting], layout: Layout) -> Array:
    """Numbers (P,) as ``model`` lays them out, plain lenses. Raises ``OutOfReach`` for corners that fit no plane."""
    maps = [_plane_map(pattern, one) for one in sightings]
    told = [one.focal_share for one in sightings]
    starts = []
    for share in FOCAL_SHARES:
        focal = [np.log(share)] * layout.cameras
        for number, camera in enumerate(layout.camera_of):
            focal[camera] = np.log(told[number] or share)
        starts.append(np.array([0.0, 1.0, 0.0, 0.0, *focal]))
    found = [least_squares(_unsquare, start, args=(maps, layout), x_scale=0.1, max_nfev=200) for start in starts]
    best = min((one for one in found if np.isfinite(one.cost)), key=lambda one: float(one.cost)).x
    values = np.zeros(layout.count)
    values[:SHAPE] = best[:SHAPE]
    poses = _poses(best, maps, layout)
    below = sum(-(turn.T @ shift)[2] < 0 for turn, shift in poses)
    if 2 * below > len(poses):  # the plane is seen from beneath: it is the other way about
        best[1] = values[1] = -best[1]
        poses = _poses(best, maps, layout)
    for number, (turn, shift) in enumerate(poses):
        values[layout.camera(number)][0] = best[SHAPE + layout.camera_of[number]]
        values[layout.pose(number)][:3] = Rotation.from_matrix(turn).as_rotvec()
        values[layout.pose(number)][3:6] = shift
    assert layout.count > LIGHT
    return values


def _plane_map(pattern: Pattern, one: Sighting) -> Array:
    """The map (3, 3) from q to the picture, in long sides from its middle; positive before the camera."""
    q = (pattern.corners_px[one.numbers] - np.array([pattern.width_px, pattern.height_px]) / 2) / pattern.width_px
    return homography.estimate(q, (one.pixels - one.middle_px) / one.long_px)


def _columns(values: Array, plane_map: Array, camera: int) -> Array:
    """The map (3, 3) from X to rays before the camera."""
    focal = np.exp(values[SHAPE + camera])
    return np.diag([1 / focal, 1 / focal, 1.0]) @ plane_map @ np.linalg.inv(plane_of(values))


def _unsquare(values: Array, maps: Sequence[Array], layout: Layout) -> Array:
    """How far the two columns of each map are from equally long and at right angles (2 N,), and a slight pull."""
    missed = []
    for plane_map, camera in zip(maps, layout.camera_of, strict=True):
        one, two, _ = _columns(values, plane_map, camera).T
        squares = one @ one + two @ two
        missed += [2 * one @ two / squares, (one @ one - two @ two) / squares]
    # Projectors hang near plumb and telephones are much alike: this settles what few photographs leave open.
    pull = np.array([*values[:SHAPE] - (0.0, 1.0, 0.0, 0.0), *(values[SHAPE:] - np.log(0.75))])
    return np.concatenate([missed, 1e-3 * pull])


def _poses(values: Array, maps: Sequence[Array], layout: Layout) -> list[tuple[Array, Array]]:
    """The turn (3, 3) and the shift (3,) of each photograph's camera."""
    found = []
    for plane_map, camera in zip(maps, layout.camera_of, strict=True):
        columns = _columns(values, plane_map, camera)
        columns = columns * np.sign(columns[2, 2]) * 2 / np.linalg.norm(columns[:, :2], axis=0).sum()
        u, _, v = np.linalg.svd(np.column_stack([columns[:, 0], columns[:, 1], np.cross(columns[:, 0], columns[:, 1])]))
        found.append((u @ v, columns[:, 2]))
    return found
