"""Reading what a command is given, with every failure turned into lines for the person."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from jobs.io.log import FileRefused, Log
from jobs.io.nodes import parse, place_of
from jobs.io.source import read_text
from jobs.model.job import Job
from jobs.model.problems import JobRefused
from projector.commands.shared.cloths import Where, every_cloth, file_of, one_cloth
from projector.commands.shared.errors import InputAtFault

if TYPE_CHECKING:
    from calibration.table import Table
    from projector.files.table_file import Stored


@contextmanager
def in_words(path: Where) -> Iterator[None]:
    """Turn what readers and planners refuse into lines that name the file."""
    try:
        yield
    except FileRefused as refused:
        from projector.words.wording import file_lines  # for what is refused

        raise InputAtFault(*file_lines(refused)) from None
    except JobRefused as refused:
        raise InputAtFault(*_lines(path, refused)) from None


def _lines(path: Where, refused: JobRefused) -> Iterator[str]:
    """A line for each problem of a job that was read, with its place in the file."""
    from projector.words.wording import called, sentence, where

    root = parse(read_text(file_of(path)), Log(str(path)))
    one = one_cloth(path)
    names = called(one.job.windows)
    cloth = one.name if one.of > 1 else ""
    for problem in refused.problems:
        place = place_of(root, one.frame.in_file(problem.path))
        said = sentence(problem, one.job.unit)
        yield f"{path}:{place.line}:{place.column}: {where(problem.path, names, cloth)}: {said}"


def load_job(path: Where) -> Job:
    """Read a job file, one cloth of it; every problem of the file in one go."""
    with in_words(path):
        return _located(one_cloth(path).job, file_of(path))


def load_every_cloth(path: Path) -> tuple[Where, ...]:
    """The cloths of a job file, each to be read by itself; every problem of the file in one go."""
    with in_words(path):
        return every_cloth(path)


def _located(job: Job, path: Path) -> Job:
    """The job with the picture of its print named from where the program runs, not from the file."""
    if not job.cloth.picture:
        return job
    return replace(job, cloth=replace(job.cloth, picture=str(path.parent / job.cloth.picture)))


def refuse_unanswered(path: Where) -> None:
    """Refuse a job whose cuts hang on something of its print that nobody has answered yet."""
    from jobs.ordering import open_problems

    with in_words(path):
        problems = open_problems(one_cloth(path).job)
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
