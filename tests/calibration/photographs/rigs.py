"""Cameras over a lit table, as bare corners: quick, and their truth is known."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.detecting import Judged
from calibration.photographs.pattern import Pattern
from calibration.photographs.sighting import Sighting
from calibration.table import Table
from projector.demo.virtual_camera import VirtualCamera, from_around
from projector.demo.virtual_projector import Hung, VirtualProjector, projector_over

Array = NDArray[np.float64]

PATTERN = Pattern(1280, 800)
LIKE = VirtualCamera((0.0, 0.0, 70.0), (48.0, 27.0), 3000.0, 4032, 3024, k1=0.05, k2=-0.01, principal_px=(12.0, -20.0))


def projector(mirrored: bool = False, k1: float = 0.01) -> VirtualProjector:
    hung = Hung(tilt_deg=12, towards_deg=65, roll_deg=1.5, k1=k1, mirrored=mirrored)
    return projector_over(96, 54, hung, size_px=(PATTERN.width_px, PATTERN.height_px))


def around(count: int, seed: int = 1, like: VirtualCamera = LIKE) -> tuple[VirtualCamera, ...]:
    return from_around((96, 54), like, count, np.random.default_rng(seed))


def sighted(
    camera: VirtualCamera,
    lit: VirtualProjector,
    seed: int,
    noise_px: float = 0.25,
    wrong: float = 0.05,
    name: str = "a",
) -> Sighting:
    """What the camera sees, a share of the corners off by up to 30 px as at the edges of a print."""
    rng = np.random.default_rng(seed)
    pixels = camera.to_picture(lit.to_table(PATTERN.corners_px))
    pixels += rng.normal(0, noise_px, pixels.shape)
    off = rng.random(len(pixels)) < wrong
    pixels[off] += rng.uniform(-30, 30, (int(off.sum()), 2))
    inside = np.flatnonzero(((pixels > 0) & (pixels < (camera.width_px, camera.height_px))).all(axis=1))
    return Sighting(inside, pixels[inside], camera.width_px, camera.height_px, name)


def judged(sightings: list[Sighting]) -> list[Judged]:
    return [Judged(one, ()) for one in sightings]


def crosses_in(lit: VirtualProjector) -> Array:
    """The crosses on the table (2, 2), the left one as one sees it first."""
    crosses = lit.to_table(PATTERN.crosses_px)
    return crosses[::-1] if lit.mirrored else crosses


def length_in(lit: VirtualProjector) -> float:
    first, second = crosses_in(lit).tolist()
    return math.dist(first, second)


def off_in(table: Table, lit: VirtualProjector) -> float:
    """How far the light falls from where it is meant, at the worst place of the lit area."""
    first, second = crosses_in(lit)
    along = (second - first) / np.linalg.norm(second - first)
    turn = np.array([along, (-along[1], along[0])])
    meant = table.lit_points(21, 13)
    met = (lit.to_table(table.to_frame(meant)) - first) @ turn.T
    return float(np.linalg.norm(met - meant, axis=1).max())
