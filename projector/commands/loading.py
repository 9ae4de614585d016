"""Reading what a command is given, with every failure turned into lines for the person."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click
from click.shell_completion import CompletionItem

from jobs.io.log import FileRefused, Log
from jobs.io.nodes import parse, place_of
from jobs.io.reader import read_job
from jobs.io.source import read_text
from jobs.journal.events import Event
from jobs.journal.history import history_of
from jobs.model.job import Job
from jobs.model.lengths import show_cut, show_length
from jobs.model.plan import Plan
from jobs.model.problems import JobRefused
from jobs.planning.going_on import GoneOn, PlacesUnknown, go_on
from jobs.planning.planner import Progress
from projector.commands.errors import InputAtFault
from projector.commands.recording import places_unknown_in_words, record_of, recorded_repeat
from projector.commands.styling import printable
from projector.words.wording import file_lines, sentence, where

if TYPE_CHECKING:
    from calibration.table import Table
    from projector.files.stored import Stored


LONGEST_NAME = 255
"""Bytes that a file system takes for one name."""
LONGEST_PATH = 4000


class YamlPath(click.Path):
    """The name of a job, table or marks file; the shell completes names of YAML files first."""

    def convert(
        self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None
    ) -> str | bytes | os.PathLike[str]:
        """As click does. Raises InputAtFault for what can be no name of a file, or could not be shown as it is."""
        name = os.fspath(value)
        if not Path(name).name or Path(name).name == "..":
            raise InputAtFault(f"{name!r} is no name of a file; write one, such as curtains.yaml")
        if printable(name) != name:
            raise InputAtFault(f"{printable(name)}: this name holds hidden characters; rename the file or its folder")
        if (
            max(len(os.fsencode(part)) for part in Path(name).parts) > LONGEST_NAME
            or len(os.fsencode(name)) > LONGEST_PATH
        ):
            raise InputAtFault(f"{name[:40]}...: this name is longer than that of a file can be; shorten it")
        return super().convert(value, param, ctx)

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        found = yaml_files(incomplete)
        return [CompletionItem(name) for name in found] or super().shell_complete(ctx, param, incomplete)


def yaml_files(begun: str) -> list[str]:
    """Names of YAML files that begin so, the folder as it was typed; none where the folder cannot be read."""
    folder, _, name = begun.rpartition("/")
    typed = begun[: len(begun) - len(name)]
    try:
        names = sorted(entry.name for entry in Path(folder or typed or ".").iterdir() if entry.suffix in YAML)
    except OSError:
        return []
    return [typed + one for one in names if one.startswith(name) and (name or not one.startswith("."))]


# Whether a file exists is said by its reader, in words and with exit code 1, not by click.
FILE = YamlPath(path_type=Path, dir_okay=True)
YAML = (".yaml", ".yml")

PICTURES = (".png", ".svg")
"""Endings of the picture files that can be written."""


@contextmanager
def searching(job: Job) -> Iterator[Callable[[Progress], None] | None]:
    """A line on standard error while a plan takes longer than a second, taken away at the end; none off a terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    said = False

    def tell(progress: Progress) -> None:
        nonlocal said
        said = True
        found, least = (show_cut(Fraction(length), job.unit) for length in (progress.used, progress.bound))
        better = f"the next is {progress.laid:.0%} laid; " if progress.laid else ""
        words = f"Planning: {found} so far, none under {least} can be; {better}Ctrl-C takes the best so far"
        # A line that wraps could not be taken away again.
        click.echo(f"\r\033[K{words[: shutil.get_terminal_size().columns - 1]}", nl=False, err=True)

    try:
        yield tell
    finally:
        if said:
            click.echo("\r\033[K", nl=False, err=True)


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
    from projector.session.saying.notices import raised_in, raised_table

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

    if plan.stopped:
        raise KeyboardInterrupt

    missing = show_length(plan.short, plan.job.unit)
    found = [remedy.sentence for remedy in remedies(plan.job, short=plan.short)]
    advice = f"this would be enough: {', or '.join(found)}" if found else "buy a longer piece"
    return f"{path}: cloth: the cuts do not fit, {missing} short; {advice}"
