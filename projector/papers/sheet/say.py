"""Lengths and names as the sheet says them, in inches, centimetres or both."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.lengths import show_cut
from jobs.plan import Cut, Plan


class Units(StrEnum):
    """Which units a sheet shows lengths in."""

    INCHES = "in"
    CENTIMETRES = "cm"
    BOTH = "both"


@dataclass(frozen=True)
class Say:
    """How lengths are said; with a second unit each length is followed by itself in that unit."""

    first: Unit
    second: Unit | None = None

    def __call__(self, length: Fraction) -> str:
        said = show_cut(length, self.first)
        return said if self.second is None else f"{said} ({show_cut(length, self.second)})"


def saying(plan: Plan, units: Units | None) -> tuple[Plan, Say]:
    """The plan with its job in the first unit of the sheet, and how to say lengths; None: the job's own unit."""
    own = plan.job.unit
    if units is None:
        return plan, Say(own)
    if units is Units.BOTH:
        return plan, Say(own, Unit.CENTIMETRE if own is Unit.INCH else Unit.INCH)
    unit = Unit.INCH if units is Units.INCHES else Unit.CENTIMETRE
    return replace(plan, job=replace(plan.job, unit=unit)), Say(unit)


def name_of(cut: Cut) -> str:
    """Whose cut it is: window, hand and number."""
    return f"{cut.window}, {cut.hand}, {cut.number} of {cut.of}"
