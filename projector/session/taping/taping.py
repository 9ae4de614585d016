"""A proof of the light with a tape as one frozen value: lit lengths one after another, what the tape says typed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from calibration.marks import TapeCheck, TapeClass, TapeReading
from calibration.table import Table
from calibration.tape import Action, TapeResult, action_after, judge_tape, lengths_to_light
from jobs.model.choices import Unit
from projector.scene.marks import Point

LONGEST_IN = 360
"""Longer lengths than this no tape class tells of."""


class TapeStep(StrEnum):
    """What the person is asked for."""

    CAUTIONS = "cautions"
    READING = "reading"
    VERDICT = "verdict"
    LEAVE = "leave?"
    LEFT = "left"


@dataclass(frozen=True)
class LitLength:
    """A lit line, and what the tape says of it: as typed, and exact in inches (None: not measured)."""

    start_in: Point
    end_in: Point
    typed: str = ""
    tape: Fraction | None = None


@dataclass(frozen=True)
class Keep:
    """The person keeps the proof with the calibration."""

    proof: TapeCheck


@dataclass(frozen=True)
class LeftUnproved:
    """The person leaves without keeping anything."""


TapingEvent = Keep | LeftUnproved


@dataclass(frozen=True)
class Taping:
    """Everything the frame depends on. ``at`` is the length in hand, ``result`` the judgement once there is one."""

    table: Table
    unit: Unit
    tape: TapeClass
    nearest_in: float
    date: str
    lengths: tuple[LitLength, ...]
    at: int = 0
    step: TapeStep = TapeStep.CAUTIONS
    behind: TapeStep = TapeStep.CAUTIONS
    typing: str = ""
    problem: str = ""
    dark: bool = False

    @property
    def length(self) -> LitLength:
        """The length in hand."""
        return self.lengths[self.at]

    @property
    def readings(self) -> tuple[TapeReading, ...]:
        """The lengths that were measured."""
        return tuple(
            TapeReading(one.start_in, one.end_in, float(one.tape)) for one in self.lengths if one.tape is not None
        )

    @property
    def result(self) -> TapeResult | None:
        """The readings judged; None before the first."""
        readings = self.readings
        return judge_tape(self.table, readings, self.tape, self.nearest_in) if readings else None

    @property
    def proof(self) -> TapeCheck | None:
        """What is kept with the calibration; None before the first reading."""
        return proof_of(self.table, TapeCheck(self.readings, self.tape, self.nearest_in), self.date)

    def with_length(self, length: LitLength) -> Taping:
        """The same with the length in hand replaced."""
        return replace(self, lengths=(*self.lengths[: self.at], length, *self.lengths[self.at + 1 :]))


def begin_taping(
    table: Table, unit: Unit, tape: TapeClass = TapeClass.II, nearest_in: float = 1 / 16, date: str = ""
) -> Taping:
    """The proof of a table by six lit lengths. Raises ``OutOfReach`` where no such lengths can be lit."""
    return Taping(table, unit, tape, nearest_in, date, tuple(_short_enough(lengths_to_light(table))))


def _short_enough(lines: Iterable[tuple[Point, Point]]) -> Iterable[LitLength]:
    for start, end in lines:
        if (start[0] - end[0]) ** 2 + (start[1] - end[1]) ** 2 <= LONGEST_IN**2:
            yield LitLength(start, end)


def proof_of(table: Table, read: TapeCheck, date: str) -> TapeCheck | None:
    """Readings as a dated proof, accepted when the judgement says so; None without readings."""
    if not read.readings:
        return None
    result = judge_tape(table, read.readings, read.tape, read.nearest_in)
    return replace(read, date=date, accepted=action_after(result) is Action.ACCEPT)
