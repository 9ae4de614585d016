"""The calibration by hand as one frozen value: crosses moved onto tape marks one after another, their inches typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from calibration.marks import Mark, outside_frame
from calibration.table import Table
from jobs.model.choices import Unit
from jobs.model.numbers import show_number
from jobs.model.records import dataclass
from projector.session.calibrating.findings import UNFITTED, Findings

FEWEST, MOST = 4, 12
FINEST_TAPE = 64
INSET = 0.1
PLACES = (
    (INSET, 1 - INSET),
    (1 - INSET, 1 - INSET),
    (1 - INSET, INSET),
    (INSET, INSET),
    (0.5, 1 - INSET),
    (0.5, INSET),
    (INSET, 0.5),
    (1 - INSET, 0.5),
    (0.5, 0.5),
    (0.3, 0.5),
    (0.7, 0.5),
    (0.5, 0.3),
)
"""Where crosses start, as shares of the frame: corners, then mid-edges (where an error shows most), then inside."""


class Step(StrEnum):
    """What the person is asked for."""

    CAUTIONS = "cautions"
    POINTING = "pointing"
    PATTERN = "pattern for photographs"
    ALONG = "inches along"
    AWAY = "inches away"
    REVIEW = "review"
    LEAVE = "leave?"
    LEFT = "left"


@dataclass(frozen=True)
class Cross:
    """One cross of light: its pixel, and the inches typed for it (as typed, and exact once both are known).

    ``is_check``: kept out of the fit, to put it to the test. ``is_added``: no tape lies there yet.
    """

    pixel: tuple[float, float]
    typed: tuple[str, str] = ("", "")
    table: tuple[Fraction, Fraction] | None = None
    is_check: bool = False
    is_added: bool = False

    @property
    def mark(self) -> Mark:
        """The cross as a mark. Raises ValueError before its inches are known."""
        if self.table is None:
            raise ValueError("the inches of this cross are not known yet")
        return Mark((float(self.table[0]), float(self.table[1])), self.pixel)


@dataclass(frozen=True)
class Save:
    """The person accepts this calibration with its check marks: to be written, then left."""

    table: Table
    checks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class Calibrating:
    """Everything the frame depends on. ``at`` is the cross in hand; ``problem`` the last refusal, in words.

    Check crosses stand last. ``table`` is the fit of the others once each cross has its inches, None when they cannot
    be fitted; ``findings`` what is to be said of it. ``remark`` replaces how to stick marks on page one.
    ``by_photographs``: the pattern comes after the cautions, not the first cross.
    """

    width_px: int
    height_px: int
    unit: Unit
    crosses: tuple[Cross, ...]
    at: int = 0
    step: Step = Step.CAUTIONS
    behind: Step = Step.CAUTIONS
    typing: str = ""
    problem: str = ""
    table: Table | None = None
    findings: Findings = UNFITTED
    remark: str = ""
    dark: bool = False
    by_photographs: bool = False

    @property
    def shows_pattern(self) -> bool:
        """Whether the pattern for photographs is lit."""
        return self.step is Step.PATTERN and not self.dark

    @property
    def cross(self) -> Cross:
        """The cross in hand."""
        return self.crosses[self.at]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The crosses that have their inches, as marks for a fit."""
        return tuple(cross.mark for cross in self.crosses if cross.table is not None and not cross.is_check)

    @property
    def checks(self) -> tuple[Mark, ...]:
        """The check crosses that have their inches."""
        return tuple(cross.mark for cross in self.crosses if cross.table is not None and cross.is_check)

    @property
    def to_fit(self) -> int:
        """How many crosses are for the fit; they come before the check crosses."""
        return sum(not cross.is_check for cross in self.crosses)

    @property
    def has_work(self) -> bool:
        """Whether leaving would lose anything."""
        return any(cross.table is not None for cross in self.crosses)

    def with_cross(self, cross: Cross) -> Calibrating:
        """The same with the cross in hand replaced."""
        crosses = (*self.crosses[: self.at], cross, *self.crosses[self.at + 1 :])
        return replace(self, crosses=crosses)


def begin(
    width_px: int, height_px: int, unit: Unit, marks: Sequence[Mark] = (), checks: Sequence[Mark] = ()
) -> Calibrating:
    """A calibration of a frame of this size, its crosses in the corners (or where earlier marks had them).

    Earlier marks are left aside when one of them lies outside the frame: they were made for another screen.
    """
    other = bool(outside_frame((*marks, *checks), width_px, height_px))
    earlier = [] if other else [_again(mark, unit) for mark in marks[:MOST]]
    fresh = [Cross(start_of(i, width_px, height_px)) for i in range(len(earlier), FEWEST)]
    kept = [] if other else [_again(mark, unit) for mark in checks[: MOST - len(earlier) - len(fresh)]]
    tests = [replace(cross, is_check=True) for cross in kept]
    return Calibrating(width_px, height_px, unit, (*earlier, *fresh, *tests))


def _again(mark: Mark, unit: Unit) -> Cross:
    """An earlier mark's cross, with its inches ready to be entered where a tape reads them exactly."""
    x, y = (Fraction(length) for length in mark.table)
    readable = unit is Unit.INCH and max(x.denominator, y.denominator) <= FINEST_TAPE
    return Cross(mark.pixel, (show_number(x), show_number(y)) if readable else ("", ""))


def start_of(number: int, width_px: int, height_px: int) -> tuple[float, float]:
    """The middle of the pixel where cross ``number`` (from 0) starts."""
    u, v = PLACES[number]
    return (int(u * width_px) + 0.5, int(v * height_px) + 0.5)
