"""Which cloth of a job a command is about: the only one, or the one that its option names."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any, TypeAlias

import click

from jobs.cutting.cloths import ClothJob, jobs_of_cloths
from jobs.io.reader import read_job
from jobs.model.numbers import quoted
from jobs.model.records import dataclass
from projector.commands.shared.errors import InputAtFault


@dataclass(frozen=True)
class OneCloth:
    """A job file and one of its cloths; ``ending`` is that of the files kept of it beside the job."""

    path: Path
    name: str
    ending: str

    def __str__(self) -> str:
        return str(self.path)


Where: TypeAlias = Path | OneCloth
"""A job file of one cloth, or one cloth of a job file."""


def file_of(job: Where) -> Path:
    """The job file."""
    return job.path if isinstance(job, OneCloth) else job


def record_path(job: Where) -> Path:
    """Where the record of cuts of this cloth is kept."""
    from jobs.journal.file import journal_path

    return journal_path(file_of(job), job.ending if isinstance(job, OneCloth) else "")


def light_beside(job: Where) -> Path:
    """Where it is kept how the light was set for this cloth."""
    from projector.files.settings import light_path

    return light_path(file_of(job), job.ending if isinstance(job, OneCloth) else "")


def with_cloth(job: Where) -> str:
    """How the job is named in a command that a person may type: the file, and the option where there are several."""
    return f"{job} --cloth {_typed(job.name)}" if isinstance(job, OneCloth) else str(job)


def one_cloth(job: Where) -> ClothJob:
    """The job of this cloth, read from the file. Raises FileRefused, and InputAtFault where it is not said which."""
    found = jobs_of_cloths(read_job(file_of(job)))
    if isinstance(job, OneCloth):
        named = [one for one in found if one.name.casefold() == job.name.casefold()]
        if not named:
            raise InputAtFault(f"{job}: cloths: nothing is cut from {quoted(job.name)}; give {_names(found)}")
        return named[0]
    if len(found) > 1:
        raise InputAtFault(f"{job}: cloths: this job has several; say which with --cloth: {_names(found)}")
    return found[0]


def every_cloth(job: Path) -> tuple[OneCloth | Path, ...]:
    """Each cloth of a job file, the file itself where it has but one. Raises FileRefused."""
    found = jobs_of_cloths(read_job(job))
    return tuple(OneCloth(job, one.name, one.ending) for one in found) if len(found) > 1 else (job,)


def chosen(job: Path, name: str) -> OneCloth:
    """The cloth of this name, capital and small letters alike. Raises FileRefused, InputAtFault."""
    one = one_cloth(OneCloth(job, name, ""))
    return OneCloth(job, one.name, one.ending)


def _names(found: tuple[ClothJob, ...]) -> str:
    return " or ".join(_typed(one.name) for one in found)


def _typed(name: str) -> str:
    """A name as it is typed behind an option."""
    return name if name.replace("-", "").isalnum() else quoted(name)


def with_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option ``--cloth``, for commands that are about one cloth: they get a ``Where`` as their job."""

    @click.option("--cloth", "cloth_name", metavar="NAME", help="Which cloth, where the job has several.")
    @wraps(command)
    def called(job: Path, cloth_name: str | None, **given: Any) -> Any:
        return command(job=_where(job, cloth_name), **given)

    return called


def _where(job: Path, name: str | None) -> Where:
    from projector.commands.shared.loading import in_words

    if name is None:
        return job
    with in_words(job):
        return chosen(job, name)
