"""How the papers write lengths: in the units that are asked for."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from jobs.model.records import dataclass


class Units(StrEnum):
    """Which units a sheet shows lengths in."""

    INCHES = "in"
    CENTIMETRES = "cm"
    BOTH = "both"


@dataclass(frozen=True)
class LengthFormat:
    """How lengths are written; with a second unit each length is followed by itself in that unit."""

    first: Unit
    second: Unit | None = None

    def __call__(self, length: Fraction) -> str:
        text = show_cut(length, self.first)
        return text if self.second is None else f"{text} ({show_cut(length, self.second)})"


def length_format(plan: Plan, units: Units | None) -> tuple[Plan, LengthFormat]:
    """The plan with its job in the sheet's first unit, and how its lengths are written; None: the job's own unit."""
    own = plan.job.unit
    if units is None:
        return plan, LengthFormat(own)
    if units is Units.BOTH:
        return plan, LengthFormat(own, Unit.CENTIMETRE if own is Unit.INCH else Unit.INCH)
    unit = Unit.INCH if units is Units.INCHES else Unit.CENTIMETRE
    return plan.with_job(replace(plan.job, unit=unit)), LengthFormat(unit)
