"""Has anything moved? One or two known marks lit again, and what a shift or a turn can mend."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from calibration.marks import Mark, pixels_of, tables_of
from calibration.table import Table

Array = NDArray[np.float64]

STILL_IN = 1 / 32
"""Marks met as closely as this are met: it is what a person sees of a lit cross on a pencil mark (a setting)."""
FAR_IN = 2.0
"""Beyond this shift, or ``FAR_DEG``, the projector was knocked: light that slants differently cannot be mended."""
FAR_DEG = 1.0


class Mend(StrEnum):
    """What is to be done about it."""

    NOTHING = "nothing"
    SHIFT = "shift"
    SHIFT_AND_TURN = "shift and turn"
    REDO = "redo"


@dataclass(frozen=True)
class Move:
    """How the light lies since the calibration: it falls ``shift_in`` off at the marks and is turned by ``turn_deg``.

    Turning is counter-clockwise as the person sees it; ``stretch_in`` is how much farther apart two marks now light;
    ``misses_in`` (one for each mark) is how far off they were before mending.
    """

    mend: Mend
    shift_in: tuple[float, float]
    turn_deg: float
    stretch_in: float
    about_in: tuple[float, float]
    misses_in: tuple[float, ...]

    def mended(self, table: Table) -> Table:
        """The table with the shift and turn taken out. Raises ``ValueError`` when only a full redo helps."""
        if self.mend == Mend.REDO:
            raise ValueError("this move can only be mended by calibrating anew")
        return table if self.mend == Mend.NOTHING else table.through(self.as_matrix())

    def as_matrix(self) -> Array:
        """From where a place is now to where the old calibration believes it to be (3, 3)."""
        turn = math.radians(self.turn_deg)
        spin = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
        matrix = np.eye(3)
        matrix[:2, :2] = spin
        matrix[:2, 2] = np.array(self.about_in) + self.shift_in - spin @ self.about_in
        return matrix


def find_move(table: Table, seen: Sequence[Mark], still_in: float = STILL_IN) -> Move:
    """How the light has moved since the calibration.

    ``seen`` are one or two known places on the table, each with the pixel that meets it now. Raises ``ValueError``
    for another number or two marks at one place, ``OutOfReach`` for a pixel off the map.
    """
    if len(seen) not in (1, 2):
        raise ValueError("the quick check takes one or two marks")
    places, believed = tables_of(seen), table.to_table(pixels_of(seen))
    misses = np.linalg.norm(believed - places, axis=1)
    shift = (believed - places).mean(axis=0)
    turn = stretch = 0.0
    if len(seen) == 2:
        now, before = places[1] - places[0], believed[1] - believed[0]
        if np.hypot(*now) < 10 * still_in or np.hypot(*before) < 10 * still_in:
            raise ValueError("the two marks are too close together to show a turn")
        turn = math.degrees(math.atan2(now[0] * before[1] - now[1] * before[0], float(now @ before)))
        stretch = float(np.hypot(*before) - np.hypot(*now))
    middle = places.mean(axis=0)
    about = (float(middle[0]), float(middle[1]))
    turned_in = math.radians(abs(turn)) * (float(np.hypot(*(places[-1] - places[0]))) / 2)
    if misses.max() <= still_in:
        mend = Mend.NOTHING
    elif abs(stretch) > 2 * still_in or np.hypot(*shift) > FAR_IN or abs(turn) > FAR_DEG:
        mend = Mend.REDO
    else:
        mend = Mend.SHIFT_AND_TURN if turned_in > still_in / 2 else Mend.SHIFT
    if mend == Mend.SHIFT:
        turn = 0.0
    return Move(mend, (float(shift[0]), float(shift[1])), turn, stretch, about, tuple(misses.tolist()))
