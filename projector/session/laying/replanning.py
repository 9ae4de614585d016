"""What the plan would be with the repeat as measured: said before the first cut."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from calibration.registration.fitting import Term
from calibration.registration.measures import measured
from jobs.model.job import Job
from jobs.model.lengths import show_length
from jobs.model.plan import Plan
from jobs.model.problems import JobRefused
from jobs.planning.planner import plan_job
from projector.scene.labels import name_of
from projector.session.state.marking import Marking
from projector.words.wording import sentence

if TYPE_CHECKING:
    from projector.session.state.state import Session

FINEST = 1024
"""A measured repeat is planned with to the nearest of so many parts of an inch."""
MATTERS = Fraction(1, 16)


def with_repeat(job: Job, along_in: float) -> Job:
    """The job with the repeat along as it was measured, to the nearest 1/1024 in."""
    if job.cloth.repeat is None:
        return job
    along = _planned_with(along_in)
    return replace(job, cloth=replace(job.cloth, repeat=replace(job.cloth.repeat, along=along)))


def _planned_with(along_in: float) -> Fraction:
    return Fraction(round(along_in * FINEST), FINEST)


def what_the_plan_says(plan: Plan, marking: Marking) -> str:
    """One sentence when the measured repeat makes the cloth too short or another order better; else empty."""
    laying = marking.laying
    if laying is None or Term.STRETCH_ALONG not in laying.measured:
        return ""
    return compare(plan, with_repeat(plan.job, measured(laying).along_in))


def repeat_to_plan_with(session: Session) -> Fraction | None:
    """The repeat along to make the plan anew with; None once a cut is made, and where it was not measured for sure."""
    laying = session.marking.laying if session.marking else None
    if not session.may_replan or session.done or laying is None or laying.outliers:
        return None
    if Term.STRETCH_ALONG not in laying.measured:
        return None
    along = _planned_with(measured(laying).along_in)
    return along if along != _planned_with(laying.fit.lattice.along_in) else None


def compare(plan: Plan, job: Job) -> str:
    """How the plan of the same job with another repeat differs from a plan, in words; empty where it does not."""
    try:
        new = _planned(job)
    except JobRefused as refused:
        reasons = "; ".join(sentence(one, job.unit) for one in refused.problems)
        return f"With the repeat as measured this cannot be planned: {reasons}"
    unit = job.unit
    if new.short:
        short = show_length(new.short, unit)
        return f"With the repeat as measured the cloth is {short} TOO SHORT. Do not cut; buy more, or plan anew."
    old_order, new_order = _order(plan), _order(new)
    if old_order != new_order:
        first = new.placements[0].cut
        return (
            f"With the repeat as measured another order of cuts uses less, {name_of(first)} first: "
            "plan anew before the first cut."
        )
    more = new.used - plan.used
    if abs(more) >= MATTERS:
        return f"With the repeat as measured the same order uses {show_length(abs(more), unit)} {_way(more)} cloth."
    return ""


def _way(more: Fraction) -> str:
    return "more" if more > 0 else "less"


@lru_cache(maxsize=4)
def _planned(job: Job) -> Plan:
    return plan_job(job)


def _order(plan: Plan) -> tuple[tuple[int, str, str], ...]:
    return tuple(
        (placed.piece, placed.cut.id, placed.cut.way.value)
        for placed in sorted(plan.placements, key=lambda placed: (placed.piece, placed.start))
    )
