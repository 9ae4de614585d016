"""The plan of a job as a command needs it: around what is cut already, on the table, or refused in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from jobs.journal.events import Event
from jobs.journal.history import history_of
from jobs.model.job import Job
from jobs.model.lengths import show_length
from jobs.model.plan import Plan
from jobs.planning.going_on import GoneOn, PlacesUnknown, go_on
from projector.commands.shared.cloths import Where
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words, load_job
from projector.commands.shared.recording import places_unknown_in_words, record_of, recorded_repeat
from projector.commands.shared.terminal import searching

if TYPE_CHECKING:
    from calibration.table import Table


def load_plan(path: Where, table: Table | None = None) -> Plan:
    """Read a job and plan it around what is cut of it, on the lit table when a calibration is given.

    A plan that is short is returned.
    """
    return load_going_on(path, record_of(path).events, table).plan


def load_going_on(path: Where, events: Sequence[Event], table: Table | None = None) -> GoneOn:
    """As ``load_plan``, with what the events of the job's record tell is cut."""
    job = _as_measured(load_job(path), path, events)
    history = history_of(events)
    try:
        with in_words(path), searching(job) as tell:
            if table is None:
                return go_on(job, history, tell=tell)
            from projector.scene.lit_stretch import between_marks, lit_from, lit_job

            marks_in = [mark.table for mark in table.marks]
            area = on_cloth(path, table, job).lit_area()
            lit, stretch = lit_job(between_marks(job, marks_in), area)
            found = go_on(lit, history, stretch[1] - stretch[0], tell)
            return replace(found, plan=lit_from(found.plan, stretch))
    except PlacesUnknown as unknown:
        raise InputAtFault(places_unknown_in_words(path, unknown.cuts)) from None


def _as_measured(job: Job, path: Where, events: Sequence[Event]) -> Job:
    """The job with the repeat along as it was measured at the table, when the plan was made anew with it."""
    along = recorded_repeat(path, events)
    if along is None or job.cloth.repeat is None:
        return job
    return replace(job, cloth=replace(job.cloth, repeat=replace(job.cloth.repeat, along=along)))


def load_practice_plan(path: Where, table: Table) -> Plan:
    """The plan of the whole job, whatever is cut of it; a plan for which the cloth is too short is refused."""
    return fitting(path, load_going_on(path, (), table)).plan


def on_cloth(path: Where, table: Table, job: Job) -> Table:
    """The table for light on the upper face of the job's cloth, as far as lens position and thickness are known."""
    from calibration.height import LensTooLow
    from projector.session.cutting.doubts import raised_in, raised_table

    try:
        return raised_table(table, job.cloth)
    except LensTooLow:
        high = show_length(raised_in(job.cloth), job.unit)
        raise InputAtFault(
            f"{path}: cloth: it lies {high} high, which is not below the lens; correct thickness, layers or the "
            "height of the lens"
        ) from None


def load_fitting_plan(path: Where, table: Table | None = None) -> Plan:
    """As ``load_plan``; a plan for which the cloth is too short is refused."""
    return fitting(path, load_going_on(path, record_of(path).events, table)).plan


def fitting(path: Where, found: GoneOn) -> GoneOn:
    """The same, refused where the cloth is too short."""
    if found.plan.short and found.plan.placements:
        missing = show_length(found.plan.short, found.plan.job.unit)
        raise InputAtFault(
            f"{path}: cloth: what is still to be cut does not fit beside what is cut, {missing} short; what is cut "
            "stays: put back what was changed, or write another piece of the cloth under pieces"
        )
    if found.plan.short:
        raise InputAtFault(short_in_words(path, found.plan))
    return found


def short_in_words(path: Where, plan: Plan) -> str:
    """The line that says how much cloth is missing, and what would make it fit, each tried by planning with it.

    A search that was stopped knows nothing of that: then an interrupt, and no advice to buy.
    """
    from jobs.planning.remedies import remedies
    from projector.words.told import change_words

    if plan.stopped:
        raise KeyboardInterrupt

    missing = show_length(plan.short, plan.job.unit)
    found = [change_words(remedy.change, plan.job.unit) for remedy in remedies(plan.resolved, plan.short)]
    buy = "buy a longer piece" if plan.job.cloth.longest_piece is None else "buy more pieces of one dye lot"
    advice = f"this would be enough: {', or '.join(found)}" if found else buy
    return f"{path}: cloth: the cuts do not fit, {missing} short; {advice}"
