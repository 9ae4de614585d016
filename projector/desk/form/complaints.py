"""What is wrong with a job, sorted to the fields of the form: the strict reader's findings in its own plain words."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from jobs.job import Job
from jobs.reading.job_file import parse_job
from jobs.reading.problems import Problem, Problems
from jobs.writing.node_places import Path
from projector.desk.form.pages import fields_shown
from projector.desk.form.spoken import in_form_words
from projector.desk.form.values import Values, values_of

NEEDED = "This is needed."
_PART = re.compile(r"([a-z_]+)(?: (\d+))?")
_EMPTY = ("nothing is written here", "this key is missing", "no colour is read here")


@dataclass(frozen=True)
class Elsewhere:
    """Something wrong that no field shows; ``path`` where a key can be taken out for it."""

    words: str
    path: Path | None = None


@dataclass(frozen=True)
class Complaints:
    """What is wrong ``beside`` each field, what is wrong ``elsewhere``, and the job where nothing is."""

    beside: dict[Path, str] = field(default_factory=dict)
    elsewhere: tuple[Elsewhere, ...] = ()
    job: Job | None = None

    @property
    def count(self) -> int:
        """How many things stand in the way."""
        return len(self.beside) + len(self.elsewhere)


def complaints(text: str) -> Complaints:
    """Read the text strictly and sort what is wrong to the fields that are shown. Raises Problems for no YAML."""
    values = values_of(text)
    try:
        return Complaints(job=parse_job(text, "job"))
    except Problems as refused:
        return _sorted(refused.problems, values)


def _sorted(problems: tuple[Problem, ...], values: Values) -> Complaints:
    shown = tuple(fields_shown(values))
    beside: dict[Path, str] = {}
    elsewhere = []
    for problem in problems:
        path = path_of(problem.where)
        found = _nearest(path, shown) if path else None
        if found is None:
            words = f"Line {problem.line}, {problem.where}: {_words(problem)}"
            elsewhere.append(Elsewhere(words, path if path and values.has(path) else None))
        elif found not in beside:
            beside[found] = NEEDED if problem.what in _EMPTY and found == path else _words(problem)
    return Complaints(beside, tuple(elsewhere))


def _words(problem: Problem) -> str:
    said = in_form_words(f"{problem.what}; {problem.advice}.")
    return said[0].upper() + said[1:]


def path_of(where: str) -> Path | None:
    """The path that a place such as ``cloth, pieces 1, flaws 2, from`` names; None where it is no plain one."""
    path: list[str | int] = []
    for part in where.split(", "):
        match = _PART.fullmatch(part)
        if match is None:
            return None
        path.append(match[1])
        if match[2]:
            path.append(int(match[2]) - 1)
    return tuple(path)


def _nearest(path: Path, shown: tuple[Path, ...]) -> Path | None:
    """The field itself, else the first field below it, else one of the same group."""
    if path in shown:
        return path
    below = next((one for one in shown if one[: len(path)] == path), None)
    if below is not None or len(path) < 2:
        return below
    return next((one for one in shown if one == path[: len(one)]), None)
