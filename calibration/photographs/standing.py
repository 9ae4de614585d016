"""Where one more photograph would help most."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.photographs.bundle import Bundle
from calibration.photographs.model import CAMERA, LIGHT, POSE, Model, places, seen
from calibration.photographs.pattern import Pattern
from calibration.photographs.sides import SIDES
from calibration.photographs.sighting import Sighting
from calibration.photographs.taping import Taped, crosses_of, similarity, table_of
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

SLANTS_DEG = (20.0, 45.0)
"""How far from plumb the camera looks down: held high, and held low."""


@dataclass(frozen=True)
class Stand:
    """Where to stand (``side``, of ``SIDES``), whether to hold the camera high, and what the error would come to."""

    side: int
    high: bool
    after_in: float


def next_stand(bundled: Bundle, pattern: Pattern, taped: Taped) -> Stand:
    """The place that leaves the least error over the lit area, for a photograph like the others, held across."""
    light = bundled.values[:LIGHT]
    middle = np.array([[pattern.width_px / 2, pattern.height_px / 2]])
    aim = np.append(places(light, pattern, middle)[0][0], 0.0)
    turn = homography.inverse(similarity(light, pattern, crosses_of(light, pattern), taped.length_in))[:2, :2]
    along = math.atan2(turn[1, 0], turn[0, 0])
    away = float(np.median([np.linalg.norm(bundled.stood_at(n) - aim) for n in range(len(bundled.used))]))
    stands = []
    for side in range(SIDES):
        for slant in SLANTS_DEG:
            angle, down = along + side * 2 * math.pi / SIDES, math.radians(slant)
            back = np.array([math.sin(down) * math.cos(angle), math.sin(down) * math.sin(angle), math.cos(down)])
            grown = _with_one_more(bundled, pattern, aim + away * back, aim)
            if grown is not None:
                error = Uncertainty(table_of(grown, pattern, taped)).everywhere_in()
                stands.append(Stand(side, slant == SLANTS_DEG[0], error))
    return min(stands, key=lambda stand: stand.after_in)


def _with_one_more(bundled: Bundle, pattern: Pattern, at: Array, aim: Array) -> Bundle | None:
    """The fit as it would be with one more photograph that sees what it should; None where it would see too little."""
    look = (aim - at) / np.linalg.norm(aim - at)
    right = np.cross(look, (0.0, 1.0, 0.0))
    right /= np.linalg.norm(right)
    turn = np.array([right, np.cross(look, right), look])
    pose = np.concatenate([_vector_of(turn), -turn @ at, [0.0]])
    like = bundled.used[0]
    camera = bundled.values[LIGHT : LIGHT + CAMERA]
    share = seen(camera, pose, places(bundled.values[:LIGHT], pattern, pattern.corners_px)[0])[0]
    pixels = like.middle_px + like.long_px * share
    inside = np.flatnonzero(((pixels > 0) & (pixels < (like.width_px, like.height_px))).all(axis=1))
    if len(inside) < 12:
        return None
    one = Sighting(inside, pixels[inside], like.width_px, like.height_px, like.camera, like.focal_share)
    model = Model(pattern, [*bundled.used, one])
    assert len(pose) == POSE
    return Bundle(model, np.append(bundled.values, pose), bundled.sigma_px, (*bundled.seen, one))


def _vector_of(turn: Array) -> Array:
    from scipy.spatial.transform import Rotation

    return np.asarray(Rotation.from_matrix(turn).as_rotvec(), dtype=np.float64)
