"""What a person measured at the table: marks, how well such marks are placed, and lengths read from a tape."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Mark:
    """One marked point: ``table`` in inches, ``pixel`` in the frame (top-left pixel's centre is (0.5, 0.5))."""

    table: tuple[float, float]
    pixel: tuple[float, float]


def tables_of(marks: Sequence[Mark]) -> Array:
    """The places of the marks on the table (N, 2), inches."""
    return np.array([mark.table for mark in marks], dtype=np.float64).reshape(-1, 2)


def pixels_of(marks: Sequence[Mark]) -> Array:
    """The places of the marks in the frame (N, 2), pixels."""
    return np.array([mark.pixel for mark in marks], dtype=np.float64).reshape(-1, 2)


def outside_frame(marks: Sequence[Mark], width_px: int, height_px: int) -> tuple[int, ...]:
    """Numbers of the marks whose pixel the projector cannot light: a fit does not mind, a person should be told."""
    pixels = pixels_of(marks)
    inside = ((pixels >= 0) & (pixels <= [width_px, height_px])).all(axis=1)
    return tuple(int(index) + 1 for index in np.flatnonzero(~inside))


@dataclass(frozen=True)
class Placing:
    """Standard uncertainties of one mark, in each direction separately.

    ``tape_in``: about two marks in three lie within this distance, along and likewise across, of where the tape says.
    ``pointing_px``: likewise for moving the light onto the mark. The defaults, 1/32 in and 1/4 px, are what a careful
    person reaches with a tape and a fine pencil (common practice, no source). Reading to the nearest ``d`` alone
    leaves ``d / sqrt 12`` (JCGM 100, from memory).
    """

    tape_in: float = 1 / 32
    pointing_px: float = 1 / 4

    def __post_init__(self) -> None:
        if not (math.isfinite(self.tape_in) and math.isfinite(self.pointing_px)):
            raise ValueError("placing errors are finite numbers")
        if self.tape_in < 0 or self.pointing_px < 0 or self.tape_in + self.pointing_px == 0:
            raise ValueError("placing errors are not below zero, and not both zero")

    def covariance_px(self, px_per_in: Array) -> Array:
        """Covariance (N, 2, 2), in pixels, of marks where the map has these derivatives (N, 2, 2), pixel by inch."""
        return self.tape_in**2 * px_per_in @ px_per_in.transpose(0, 2, 1) + self.pointing_px**2 * np.eye(2)


CAREFUL = Placing()
"""The default: a careful person with a tape and a fine pencil."""
HANDS = ((1.0, 0.9), (2.0, 0.08), (4.0, 0.02))
"""How much worse than stated a hand places marks, and how often (a setting; no source)."""
CARELESS = 4.0
"""No careful work is worse than stated by more than this."""


class TapeClass(StrEnum):
    """How good the tape is: accuracy classes of OIML R 35-1, or a metal tape to NIST Handbook 44."""

    I = "I"  # noqa: E741
    II = "II"
    III = "III"
    METAL = "metal tape"


@dataclass(frozen=True)
class TapeReading:
    """A lit length from ``start_in`` to ``end_in`` (table inches), and what the tape says of it, in inches."""

    start_in: tuple[float, float]
    end_in: tuple[float, float]
    tape_in: float


@dataclass(frozen=True)
class TapeCheck:
    """Lengths measured with one tape, which was read to the nearest ``nearest_in``; ``date`` as in the table file.

    ``accepted``: the calibration was found good enough by it.
    """

    readings: tuple[TapeReading, ...]
    tape: TapeClass = TapeClass.II
    nearest_in: float = 1 / 16
    date: str = ""
    accepted: bool = False
