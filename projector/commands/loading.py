"""Reading what a command is given, with every failure turned into lines for the person."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.job import Job
from jobs.plan import Plan
from jobs.planning import plan_job
from jobs.reading.job_file import read_job
from jobs.reading.problems import Problems
from jobs.refusals import JobRefused, Problem
from projector.commands.errors import InputAtFault

if TYPE_CHECKING:
    from calibration.table import Table
    from projector.files.stored import Stored

# Whether a file exists is said by its reader, in words and with exit code 1, not by click.
FILE = click.Path(path_type=Path, dir_okay=True)

PICTURES = (".png", ".svg")
"""Endings of the picture files that can be written."""


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Turn what readers and planners refuse into lines that name the file."""
    try:
        yield
    except Problems as refused:
        raise InputAtFault(*map(str, refused.problems)) from None
    except JobRefused as refused:
        raise InputAtFault(*(_line(path, problem) for problem in refused.problems)) from None


def _line(path: Path, problem: Problem) -> str:
    place = f":{problem.place.line}:{problem.place.column}" if problem.place else ""
    return f"{path}{place}: {problem.where}: {problem.what}; {problem.advice}"


def load_job(path: Path) -> Job:
    """Read a job file; every problem of the file in one go."""
    with in_words(path):
        return read_job(path)


def load_table(path: Path) -> Table:
    """Read the fitted table of a table file."""
    return load_stored(path).table


def load_stored(path: Path) -> Stored:
    """Read a table file: the fitted table and what was noted beside it."""
    from projector.files.table_file import read_stored

    with in_words(path):
        return read_stored(path)


def load_plan(path: Path, table: Table | None = None) -> Plan:
    """Read a job and plan it, on the lit table when a calibration is given. A plan that is short is returned."""
    job = load_job(path)
    with in_words(path):
        if table is None:
            return plan_job(job)
        from projector.scene.lit_stretch import plan_on_table

        return plan_on_table(job, on_cloth(path, table, job).lit_area())


def on_cloth(path: Path, table: Table, job: Job) -> Table:
    """The table for light on the upper face of the job's cloth, as far as lens position and thickness are known."""
    from calibration.height import LensTooLow
    from projector.session.notices import raised_in, raised_table

    try:
        return raised_table(table, job.cloth)
    except LensTooLow:
        from jobs.lengths import show_length

        high = show_length(raised_in(job.cloth), job.unit)
        raise InputAtFault(
            f"{path}: cloth: it lies {high} high, which is not below the lens; correct thickness, layers or the "
            "height of the lens"
        ) from None


def load_fitting_plan(path: Path, table: Table | None = None) -> Plan:
    """As ``load_plan``; a plan for which the cloth is too short is refused."""
    plan = load_plan(path, table)
    if plan.short:
        raise InputAtFault(short_in_words(path, plan))
    return plan


def short_in_words(path: Path, plan: Plan) -> str:
    """The line that says how much cloth is missing."""
    from jobs.lengths import show_length

    missing = show_length(plan.short, plan.job.unit)
    return (
        f"{path}: cloth: the cuts do not fit, {missing} short; buy a longer piece, or take a smaller hem or another row"
    )
