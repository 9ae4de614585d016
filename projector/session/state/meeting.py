"""Has anything moved? Two marks of the calibration lit again, and the light moved onto them where they miss."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from calibration.homography import OutOfReach
from calibration.marks import Mark
from calibration.moved import Move, find_move
from calibration.table import Table
from projector.scene.marks import Point
from projector.session.state.motion import STEPS_PER_INCH

FARTHEST_64THS = 6 * STEPS_PER_INCH
"""No farther than this is the light moved onto a mark: beyond, only a new calibration helps."""


@dataclass(frozen=True)
class Meeting:
    """Two marks of the bare ``table`` (numbers from 1), how far the light was moved to meet each, which is in hand.

    ``count`` tells how many of the two the correction goes by; ``notices`` is what to say of the calibration first.
    """

    table: Table
    numbers: tuple[int, int]
    notices: tuple[str, ...] = ()
    offsets_64ths: tuple[tuple[int, int], tuple[int, int]] = ((0, 0), (0, 0))
    at: int = 0
    count: int = 2
    over: bool = False

    @property
    def marks(self) -> tuple[Mark, Mark]:
        """The two marks as they were calibrated."""
        first, second = (self.table.marks[number - 1] for number in self.numbers)
        return first, second

    def lit_at(self, number: int) -> Point:
        """Where the old calibration believes the cross of mark 0 or 1 to lie, as it is lit now."""
        x, y = self.marks[number].table
        right, away = self.offsets_64ths[number]
        return x + right / STEPS_PER_INCH, y + away / STEPS_PER_INCH

    def nudged(self, right_64ths: int, away_64ths: int) -> Meeting:
        """The cross in hand moved on, the second one with the first; the same where it would leave the light."""
        right, away = self.offsets_64ths[self.at]
        there = (right + right_64ths, away + away_64ths)
        moved = (there, there) if self.at == 0 else (self.offsets_64ths[0], there)
        new = replace(self, offsets_64ths=moved)
        near = max(abs(value) for value in there) <= FARTHEST_64THS
        return new if near and bool(self.table.contains([new.lit_at(self.at)])[0]) else self

    @property
    def move(self) -> Move | None:
        """How the light has moved, by the marks that count; None when they cannot tell."""
        places = [self.lit_at(number) for number in range(self.count)]
        try:
            pixels = self.table.to_frame(places).tolist()
            seen = [Mark(mark.table, (u, v)) for mark, (u, v) in zip(self.marks, pixels, strict=False)]
            return find_move(self.table, seen)
        except (OutOfReach, ValueError):
            return None


def meeting_of(table: Table, notices: Sequence[str] = ()) -> Meeting | None:
    """The check by the two marks farthest apart among those that are lit; None where fewer than two are."""
    places = [mark.table for mark in table.marks]
    lit = [number for number, is_lit in enumerate(table.contains(places), 1) if is_lit] if places else []
    if len(lit) < 2:
        return None
    far = max(combinations(lit, 2), key=lambda pair: math.dist(places[pair[0] - 1], places[pair[1] - 1]))
    return Meeting(table, far, tuple(notices))
