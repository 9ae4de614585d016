"""What is wrong with a file: every problem with its place, collected and then raised together."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.job import Place
from jobs.numbers import quoted

MOST_PROBLEMS = 200


@dataclass(frozen=True)
class Problem:
    """One thing to mend: ``where`` names the key, ``what`` is wrong, ``advice`` says what to write instead."""

    file: str
    line: int
    column: int
    where: str
    what: str
    advice: str

    def __str__(self) -> str:
        file = self.file if self.file.isprintable() else quoted(self.file, 200)
        return f"{file}:{self.line}:{self.column}: {self.where}: {self.what}; {self.advice}"


class Problems(Exception):  # noqa: N818 - it is what it holds
    """A file that cannot be used; ``problems`` holds all that was found, in the order of the file."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__(problems)
        self.problems = problems

    def __str__(self) -> str:
        return "\n".join(map(str, self.problems))


class Refused(Exception):  # noqa: N818 - says what happened to the value
    """A value was refused and its problem has been noted; the reader goes on with the next key."""


class Log:
    """Collects the problems of one file while it is read."""

    def __init__(self, file: str) -> None:
        self.file = file
        self._problems: dict[Problem, None] = {}

    def refuse(self, place: Place, where: str, what: str, advice: str) -> Refused:
        """Note a problem and return what to raise; past MOST_PROBLEMS the reading ends with what there is."""
        self._problems[Problem(self.file, place.line, place.column, where, what, advice)] = None
        if len(self._problems) == MOST_PROBLEMS:
            advice = "mend these first"
            self._problems[Problem(self.file, place.line, place.column, "file", "too many problems", advice)] = None
            raise self.all()
        return Refused()

    def all(self) -> Problems:
        """Everything noted so far, in the order of the file."""
        return Problems(tuple(sorted(self._problems, key=lambda p: (p.line, p.column))))

    def raise_if_any(self) -> None:
        """Raise ``Problems`` unless nothing was noted."""
        if self._problems:
            raise self.all()
