"""What is wrong with a file: every problem with its place, collected while it is read and then raised together."""

from __future__ import annotations

from enum import StrEnum

from jobs.model.choices import Unit
from jobs.model.problems import Code, Path, Problem, Refused, Value, problem
from jobs.model.records import dataclass

MOST_PROBLEMS = 200


@dataclass(frozen=True)
class Place:
    """Where something stands in a file: 1-based line and column."""

    line: int
    column: int


START = Place(1, 1)


class FileRefused(Refused):
    """A file that cannot be used: ``problems`` in the order of the file, ``places`` one for each of them.

    ``unit`` is that of the file, as far as it could be read.
    """

    def __init__(self, file: str, problems: tuple[Problem, ...], places: tuple[Place, ...], unit: Unit) -> None:
        super().__init__(problems)
        self.file = file
        self.places = places
        self.unit = unit


class Unusable(Exception):  # noqa: N818 - says what the value is
    """A value was refused and its problem has been noted; the reader goes on with the next key."""


class Log:
    """Collects the problems of one file while it is read."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.unit = Unit.INCH
        self._problems: dict[tuple[Problem, Place], None] = {}

    def refuse(self, place: Place, path: Path, code: StrEnum, /, **values: Value) -> Unusable:
        """Note a problem and return what to raise; past MOST_PROBLEMS the reading ends with what there is."""
        return self.note(place, problem(path, code, **values))

    def note(self, place: Place, found: Problem) -> Unusable:
        """As ``refuse``, for a problem that is made already."""
        self._problems[found, place] = None
        if len(self._problems) == MOST_PROBLEMS:
            self._problems[problem((), Code.TOO_MANY_PROBLEMS), place] = None
            raise self.all()
        return Unusable()

    def all(self) -> FileRefused:
        """Everything noted so far, in the order of the file."""
        ordered = sorted(self._problems, key=lambda noted: (noted[1].line, noted[1].column))
        problems, places = tuple(one for one, _ in ordered), tuple(place for _, place in ordered)
        return FileRefused(self.file, problems, places, self.unit)

    def raise_if_any(self) -> None:
        """Raise ``FileRefused`` unless nothing was noted."""
        if self._problems:
            raise self.all()
