"""A projector over a bare table to practise calibration on, and how far off a calibration of it truly is."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.pattern import Pattern
from calibration.table import Table
from jobs.model.records import dataclass
from projector.demo.virtual_projector import VirtualProjector

Array = NDArray[np.float64]
Point = tuple[float, float]

TABLE_IN = (96.0, 60.0)
WIDTH_PX, HEIGHT_PX = 1920, 1080
FIRST_TAPES: tuple[Point, ...] = ((14.0, 14.0), (46.0, 14.0), (46.0, 42.0), (14.0, 42.0))
"""Where somebody in a hurry stuck the first four crosses: all in the left half of the light."""
STEP_IN = 0.25
"""Further crosses are stuck on whole steps, so that a tape reads them exactly."""


@dataclass(frozen=True)
class Practice:
    """The projector, in inches from the table's near left corner; inches are counted by the person from ``zero``."""

    projector: VirtualProjector
    zero: Point

    @property
    def crosses_in(self) -> Array:
        """Where the two crosses of the pattern for photographs are lit (2, 2), the left one first."""
        return self.projector.to_table(Pattern(self.projector.width_px, self.projector.height_px).crosses_px)

    @property
    def tape_in(self) -> float:
        """How far it truly is from cross to cross."""
        return float(np.linalg.norm(self.crosses_in[1] - self.crosses_in[0]))

    def place_of(self, pixel: Point) -> Point:
        """Where on the table a pixel of the frame falls."""
        x, y = self.projector.to_table([pixel])[0].tolist()
        return x, y

    def stuck_near(self, pixel: Point) -> Point:
        """Where a cross is stuck for a mark that was asked for at a pixel: on the table, on a whole step from zero."""
        found = []
        for value, zero, size in zip(self.place_of(pixel), self.zero, TABLE_IN, strict=True):
            steps = round((min(max(value, 1.0), size - 1.0) - zero) / STEP_IN)
            found.append(zero + steps * STEP_IN)
        return found[0], found[1]

    def counted(self, place: Point) -> Point:
        """A place as the person counts it, from zero."""
        return place[0] - self.zero[0], place[1] - self.zero[1]

    def true_error_in(self, table: Table) -> float:
        """How far off the light truly is at the worst place of the lit area, by a calibration of this projector.

        Marks count from ``zero`` along the table; photographs from the left cross of the pattern towards the other.
        """
        wanted = table.lit_points(33, 19)
        lands = self.projector.to_table(table.to_frame(wanted))
        zero, turn = np.array(self.zero), np.eye(2)
        if table.photographed is not None:
            zero, along = self.crosses_in[0], (self.crosses_in[1] - self.crosses_in[0]) / self.tape_in
            turn = np.array([along, (-along[1], along[0])])
        lands = (lands - zero) @ turn.T
        return float(np.linalg.norm(lands - wanted, axis=1).max())


KNOCK_IN, KNOCK_DEG = (-0.5, 0.3), 0.6
"""How far the middle of the light is moved, and the light turned, where somebody has knocked the projector."""


def practice(*, knocked: bool = False) -> Practice:
    """A projector tilted a little, whose light stays on the table; ``knocked`` out of how it hung."""
    height = 112.0
    lens_at = (48.0 + height * math.tan(math.radians(4)), 30.0 - height * math.tan(math.radians(6)), height)
    aim, roll = (48.0, 30.5), 1.2
    if knocked:
        aim, roll = (aim[0] + KNOCK_IN[0], aim[1] + KNOCK_IN[1]), roll + KNOCK_DEG
    projector = VirtualProjector(lens_at, aim, WIDTH_PX * height / 84.0, roll, WIDTH_PX, HEIGHT_PX)
    return Practice(projector, FIRST_TAPES[0])
