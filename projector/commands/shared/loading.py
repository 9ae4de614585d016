"""Reading what a command is given, with every failure turned into lines for the person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from jobs.io.log import FileRefused, Log
from jobs.io.nodes import parse, place_of
from jobs.io.reader import read_job
from jobs.io.source import read_text
from jobs.journal.events import Event
from jobs.journal.history import history_of
from jobs.model.job import Job
from jobs.model.lengths import show_length
from jobs.model.plan import Plan
from jobs.model.problems import JobRefused
from jobs.planning.going_on import GoneOn, PlacesUnknown, go_on
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.recording import places_unknown_in_words, record_of, recorded_repeat
from projector.commands.shared.terminal import searching
from projector.words.wording import file_lines, sentence, where

if TYPE_CHECKING:
    from calibration.table import Table
    from projector.files.table_file import Stored


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Turn what readers and planners refuse into lines that name the file."""
    try:
        yield
    except FileRefused as refused:
        raise InputAtFault(*file_lines(refused)) from None
    except JobRefused as refused:
        raise InputAtFault(*_lines(path, refused)) from None


def _lines(path: Path, refused: JobRefused) -> Iterator[str]:
    """A line for each problem of a job that was read, with its place in the file."""
    root = parse(read_text(path), Log(str(path)))
    job = read_job(path)
    names = [window.name for window in job.windows]
    for problem in refused.problems:
        place = place_of(root, problem.path)
        yield f"{path}:{place.line}:{place.column}: {where(problem.path, names)}: {sentence(problem, job.unit)}"


def load_job(path: Path) -> Job:
    """Read a job file; every problem of the file in one go."""
    with in_words(path):
        return _located(read_job(path), path)


def _located(job: Job, path: Path) -> Job:
    """The job with the picture of its print named from where the program runs, not from the file."""
    if not job.cloth.picture:
        return job
    return replace(job, cloth=replace(job.cloth, picture=str(path.parent / job.cloth.picture)))


def refuse_unanswered(path: Path) -> None:
    """Refuse a job whose cuts hang on something of its print that nobody has answered yet."""
    from jobs.ordering import open_problems

    with in_words(path):
        problems = open_problems(read_job(path))
        if problems:
            raise JobRefused(problems)


def load_table(path: Path) -> Table:
    """Read the fitted table of a table file."""
    return load_stored(path).table


def load_stored(path: Path) -> Stored:
    """Read a table file: the fitted table and what was noted beside it."""
    from projector.files.table_file import read_stored

    with in_words(path):
        return read_stored(path)


def load_plan(path: Path, table: Table | None = None) -> Plan:
    """Read a job and plan it around what is cut of it, on the lit table when a calibration is given.

    A plan that is short is returned.
    """
    return load_going_on(path, record_of(path).events, table).plan


def load_going_on(path: Path, events: Sequence[Event], table: Table | None = None) -> GoneOn:
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


def _as_measured(job: Job, path: Path, events: Sequence[Event]) -> Job:
    """The job with the repeat along as it was measured at the table, when the plan was made anew with it."""
    along = recorded_repeat(path, events)
    if along is None or job.cloth.repeat is None:
        return job
    return replace(job, cloth=replace(job.cloth, repeat=replace(job.cloth.repeat, along=along)))


def load_practice_plan(path: Path, table: Table) -> Plan:
    """The plan of the whole job, whatever is cut of it; a plan for which the cloth is too short is refused."""
    return fitting(path, load_going_on(path, (), table)).plan


def on_cloth(path: Path, table: Table, job: Job) -> Table:
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


def load_fitting_plan(path: Path, table: Table | None = None) -> Plan:
    """As ``load_plan``; a plan for which the cloth is too short is refused."""
    return fitting(path, load_going_on(path, record_of(path).events, table)).plan


def fitting(path: Path, found: GoneOn) -> GoneOn:
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


def short_in_words(path: Path, plan: Plan) -> str:
    """The line that says how much cloth is missing, and what would make it fit, each tried by planning with it.

    A search that was stopped knows nothing of that: then an interrupt, and no advice to buy.
    """
    from jobs.planning.remedies import remedies
    from projector.words.told import change_words

    if plan.stopped:
        raise KeyboardInterrupt

    missing = show_length(plan.short, plan.job.unit)
    found = [change_words(remedy.change, plan.job.unit) for remedy in remedies(plan.resolved, plan.short)]
    advice = f"this would be enough: {', or '.join(found)}" if found else "buy a longer piece"
    return f"{path}: cloth: the cuts do not fit, {missing} short; {advice}"
