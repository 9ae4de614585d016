"""A virtual projector over a table: a pinhole that throws light, tilted as it pleases, whose truth is known."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.lens import Lens
from calibration.marks import Mark
from jobs.model.records import dataclass

Array = NDArray[np.float64]
Place = tuple[float, float, float]


@dataclass(frozen=True)
class VirtualProjector:
    """A projector at ``lens_at`` (table inches, z up) that throws the middle of its frame to ``aim`` on the table.

    ``focal_px`` is the throw ratio times the frame width; ``roll_deg`` turns the frame about the beam; ``mirrored``
    stands for a mirror in the light path. ``k1`` is the first radial term of ``calibration.lens``, about an axis that
    stands ``axis_px`` from the middle of the frame.
    """

    lens_at: Place
    aim: tuple[float, float]
    focal_px: float
    roll_deg: float = 0.0
    width_px: int = 1920
    height_px: int = 1080
    mirrored: bool = False
    k1: float = 0.0
    gamma: float = 2.2
    axis_px: tuple[float, float] = (0.0, 0.0)

    @cached_property
    def lens(self) -> Lens:
        """The radial term about its axis."""
        middle = (self.width_px / 2 + self.axis_px[0], self.height_px / 2 + self.axis_px[1])
        return Lens(self.k1, 0.0, middle, float(self.width_px))

    @cached_property
    def matrix(self) -> Array:
        """True map (3, 3) from table inch to pixel of an ideal lens, last entry 1.

        A point p = X - lens lights u = width/2 + F (right . p)/(beam . p) and v = height/2 + F (down . p)/(beam . p);
        for X = (x, y, 0) that is a plane-to-plane map (Hartley & Zisserman, Multiple View Geometry, 2nd ed., 8.1).
        """
        right, down, beam = self._axes()
        camera = np.array(
            [
                [self.focal_px, 0.0, self.width_px / 2],
                [0.0, self.focal_px, self.height_px / 2],
                [0.0, 0.0, 1.0],
            ]
        )
        turn = np.array([right, down, beam])
        plane = np.column_stack([turn[:, 0], turn[:, 1], -turn @ np.array(self.lens_at)])
        full = camera @ plane
        return full / full[2, 2]

    def to_frame(self, points_in: ArrayLike) -> Array:
        """Pixels (N, 2) that light table points (N, 2) inches."""
        ideal = project(self.matrix, np.asarray(points_in, float))
        return ideal if self.lens.is_plain else self.lens.apply(ideal)

    def to_table(self, points_px: ArrayLike) -> Array:
        """Table points (N, 2) inches that pixels (N, 2) light."""
        pixels = np.asarray(points_px, float)
        ideal = pixels if self.lens.is_plain else self.lens.undo(pixels)
        return project(np.asarray(np.linalg.inv(self.matrix), np.float64), ideal)

    def _axes(self) -> tuple[Array, Array, Array]:
        """Unit vectors of the frame's right and down and of the beam, in table axes."""
        beam = np.array([self.aim[0], self.aim[1], 0.0]) - np.array(self.lens_at)
        beam /= np.linalg.norm(beam)
        towards_person = np.array([0.0, -1.0, 0.0])
        down = towards_person - (towards_person @ beam) * beam
        down /= np.linalg.norm(down)
        right = np.cross(down, beam)
        cos, sin = math.cos(math.radians(self.roll_deg)), math.sin(math.radians(self.roll_deg))
        right, down = cos * right + sin * down, cos * down - sin * right
        return (-right if self.mirrored else right), down, beam


@dataclass(frozen=True)
class Hung:
    """How a projector hangs: its lens ``height_in`` above the table, off to the side ``towards_deg`` (counter-clockwise
    from +x) until the beam is tilted by ``tilt_deg``; the rest as of ``VirtualProjector``."""

    height_in: float = 96.0
    tilt_deg: float = 0.0
    towards_deg: float = 90.0
    roll_deg: float = 0.0
    mirrored: bool = False
    k1: float = 0.0


PLUMB = Hung()
EDGE_SHARE = 0.04
"""The share of the frame left at each side of the table."""


def projector_over(
    length_in: float, width_in: float, hung: Hung = PLUMB, *, size_px: tuple[int, int] = (1920, 1080)
) -> VirtualProjector:
    """A projector aimed at the middle of a table 0..length by 0..width, zoomed so that the whole table is just lit."""
    middle = (length_in / 2, width_in / 2)
    off = hung.height_in * math.tan(math.radians(hung.tilt_deg))
    side = math.radians(hung.towards_deg)
    lens_at = (middle[0] + off * math.cos(side), middle[1] + off * math.sin(side), hung.height_in)
    unit = VirtualProjector(lens_at, middle, 1.0, hung.roll_deg, *size_px, hung.mirrored)
    corners = [(0.0, 0.0), (length_in, 0.0), (length_in, width_in), (0.0, width_in)]
    reach = np.abs(unit.to_frame(corners) - np.array(size_px) / 2).max(axis=0)
    room = np.array(size_px) * (0.5 - EDGE_SHARE)
    return replace(unit, focal_px=float((room / reach).min()), k1=hung.k1)


def marks_of(projector: VirtualProjector, points_in: ArrayLike) -> tuple[Mark, ...]:
    """Marks as a careful person makes them: the table inches and the pixel that lights each."""
    places = np.asarray(points_in, float)
    pixels = projector.to_frame(places)
    return tuple(Mark((x, y), (u, v)) for (x, y), (u, v) in zip(places.tolist(), pixels.tolist(), strict=True))


def project(matrix: Array, points: Array) -> Array:
    """Points (N, 2) through a plane map (3, 3), coordinate by coordinate: far quicker than a product for millions."""
    x, y = points.T
    (a, b, c), (d, e, f), (g, h, i) = matrix.tolist()
    share = 1.0 / (g * x + h * y + i)
    return np.stack([(a * x + b * y + c) * share, (d * x + e * y + f) * share], axis=-1)
