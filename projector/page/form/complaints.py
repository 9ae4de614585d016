"""What is wrong with a job, sorted to the fields of the form: the strict reader's findings in its own plain words."""

from __future__ import annotations

from dataclasses import field

from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.problems import Code, Path, Problem
from jobs.model.records import dataclass
from jobs.model.schema import key_at
from projector.page.form.pages import fields_shown
from projector.page.form.values import Values, values_of
from projector.words.wording import Voice, sentence, where

NEEDED = "This is needed."
_EMPTY = (Code.NOTHING_WRITTEN, Code.MISSING_KEY, Code.COLOUR_IS_A_REMARK)


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
    """Read the text strictly and sort what is wrong to the fields that are shown. Raises FileRefused for no YAML."""
    values = values_of(text)
    try:
        return Complaints(job=parse_job(text, "job"))
    except FileRefused as refused:
        return _sorted(refused, values)


def _sorted(refused: FileRefused, values: Values) -> Complaints:
    shown = tuple(fields_shown(values))
    beside: dict[Path, str] = {}
    elsewhere = []
    for problem, place in zip(refused.problems, refused.places, strict=True):
        path = problem.path
        found = _nearest(path, shown) if path else None
        if found is None:
            words = f"Line {place.line}, {where(path)}: {_words(problem, refused.unit)}"
            elsewhere.append(Elsewhere(words, path if path and values.has(path) else None))
        elif found not in beside:
            empty = problem.code in _EMPTY and found == path
            beside[found] = NEEDED if empty else _words(problem, refused.unit)
    return Complaints(beside, tuple(elsewhere))


def _words(problem: Problem, unit: Unit) -> str:
    said = sentence(problem, unit, Voice.FORM) + "."
    return said[0].upper() + said[1:]


def _nearest(path: Path, shown: tuple[Path, ...]) -> Path | None:
    """The field itself, else the first field below it, else one of the same group."""
    if path in shown:
        return path
    below = next((one for one in shown if one[: len(path)] == path), None)
    if below is not None or len(path) < 2:
        return below
    within = next((one for one in shown if one == path[: len(one)]), None)
    if within is not None or key_at(Job, path) is None:
        return within
    return next((one for one in shown if one[: len(path) - 1] == path[:-1]), None)
