"""How far a set of photographs has come, before the tape is laid: what it leaves open, and which one helps next."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.checking import TOLERANCE_IN
from calibration.photographs.bundle import Bundle, bundle
from calibration.photographs.model import LIGHT, Layout, places, turned
from calibration.photographs.pattern import Pattern
from calibration.photographs.sides import SIDES, TESTED
from calibration.photographs.sighting import Sighting
from calibration.photographs.standing import next_stand
from calibration.photographs.start import first_guess
from calibration.photographs.taping import Taped, crosses_of, similarity, table_of
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

LEAST = 3
"""Two photographs leave the shape of the light open, whatever they show."""
ASKED_IN = TOLERANCE_IN / 3
"""The light is known well enough where the photographs leave less than this open: the tape wants the rest."""
USUAL_HEIGHT_IN = 65.0
"""A camera is held about so far above a table, as long as no tape tells better (common practice, no source)."""
HIGH_DEG = 33.0
"""Cameras less far from plumb than this are held high: half way between the two that are proposed."""
FIRST_SHARE = 0.12
"""How much of the bar each of the first photographs fills, with which nothing can be fitted yet."""


@dataclass(frozen=True)
class Stood:
    """Where a photograph was taken: on the table's plane, inches from the first cross, and how high above it."""

    at_in: tuple[float, float]
    height_in: float


@dataclass(frozen=True, eq=False)
class Progress:
    """``open_in`` is how far off the light can be by what the photographs leave open (95 of 100), None before three.

    ``area_in`` (4, 2) is the lit area, ``side`` (see ``sides.SIDES``) and ``high`` where the next one helps most.
    """

    bundled: Bundle | None
    open_in: float | None
    area_in: Array
    stood: tuple[Stood, ...]
    side: int
    high: bool

    @property
    def is_enough(self) -> bool:
        """Whether they leave so little open that another brings nothing that is asked for, and test each other."""
        return self.open_in is not None and self.open_in <= ASKED_IN and len(self.stood) >= TESTED

    @property
    def share(self) -> float:
        """How far the set has come, from 0 to 1: as the logarithm of what is open falls from an inch."""
        if self.open_in is None:
            return FIRST_SHARE * len(self.stood)
        come = math.log(max(self.open_in, 1e-6)) / math.log(ASKED_IN)
        most = min(1.0, 1 - FIRST_SHARE * (TESTED - len(self.stood)))
        return min(most, max((LEAST - 1) * FIRST_SHARE, come))


def progress(pattern: Pattern, sightings: Sequence[Sighting], length_in: float | None = None) -> Progress:
    """How far these photographs, one or more, have come; ``length_in`` is what the tape says, where it does.

    Raises ``OutOfReach``, ``LinAlgError`` and ``ArithmeticError`` where they fit no light at all.
    """
    if len(sightings) < LEAST:
        values = first_guess(pattern, sightings, Layout.of(sightings))
        stood, area = _stood(values, pattern, Layout.of(sightings), length_in)
        side, high = _farthest(stood, area)
        return Progress(None, None, area, stood, side, high)
    bundled = bundle(pattern, sightings)
    layout = bundled.model.layout
    taped = Taped((length_in or _usual_length(bundled.values, pattern, layout),), exact=True)
    stood, area = _stood(bundled.values, pattern, layout, taped.length_in)
    open_in = Uncertainty(table_of(bundled, pattern, taped)).everywhere_in()
    if open_in <= ASKED_IN:
        side, high = _farthest(stood, area)
    else:
        stand = next_stand(bundled, pattern, taped)
        side, high = stand.side, stand.high
    return Progress(bundled, open_in, area, stood, side, high)


def _camera(values: Array, layout: Layout, number: int) -> Array:
    pose = values[layout.pose(number)]
    return np.asarray(-turned(pose[:3])[0].T @ pose[3:6])


def _usual_length(values: Array, pattern: Pattern, layout: Layout) -> float:
    """From cross to cross, if the cameras were as high as cameras are."""
    scale = np.sqrt(np.linalg.det(similarity(values, pattern, crosses_of(values, pattern), 1.0)[:2, :2]))
    heights = [scale * _camera(values, layout, number)[2] for number in range(len(layout.camera_of))]
    return USUAL_HEIGHT_IN / max(float(np.median(heights)), 1e-6)


def _stood(values: Array, pattern: Pattern, layout: Layout, length_in: float | None) -> tuple[tuple[Stood, ...], Array]:
    """Where the cameras were, and the lit area (4, 2) from near left on, counter-clockwise."""
    length = length_in or _usual_length(values, pattern, layout)
    to_table = similarity(values, pattern, crosses_of(values, pattern), length)
    scale = float(np.sqrt(np.linalg.det(to_table[:2, :2])))
    cameras = [_camera(values, layout, number) for number in range(len(layout.camera_of))]
    feet = homography.apply(to_table, np.array(cameras)[:, :2])
    frame = np.array([(0, 1), (1, 1), (1, 0), (0, 0)]) * (pattern.width_px, pattern.height_px)
    area = homography.apply(to_table, places(values[:LIGHT], pattern, frame)[0])
    stood = tuple(
        Stood((x, y), scale * float(camera[2])) for (x, y), camera in zip(feet.tolist(), cameras, strict=True)
    )
    return stood, area


def _farthest(stood: Sequence[Stood], area: Array) -> tuple[int, bool]:
    """The side that is farthest from all where somebody stood; high and low in turn."""
    middle = area.mean(axis=0)
    taken = [math.atan2(one.at_in[1] - middle[1], one.at_in[0] - middle[0]) for one in stood]
    free = [min(abs(math.remainder(side * math.tau / SIDES - one, math.tau)) for one in taken) for side in range(SIDES)]
    slants = [math.degrees(math.atan2(math.dist(one.at_in, middle), one.height_in)) for one in stood]
    low = sum(slant > HIGH_DEG for slant in slants)
    return int(np.argmax(np.round(free, 3))), 2 * low >= len(stood)
