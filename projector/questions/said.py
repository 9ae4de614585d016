"""What a person has said so far: answers in the order they were given, each with its place in the job."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.lengths import parse_length
from jobs.model.problems import Path

SKIPPED = ("skip", "-")


@dataclass(frozen=True)
class Said:
    """Pairs of path and answer. Answers were accepted, so they can be read again.

    A path is that of a key of the job, or of a question that is none: whether there is another window, for instance.
    """

    answers: tuple[tuple[Path, str], ...] = ()

    def has(self, path: Path) -> bool:
        """Whether this question was answered."""
        return any(path == answered for answered, _ in self.answers)

    def text(self, path: Path, stand_in: str = "") -> str:
        """The answer as it was accepted, ``stand_in`` where there is none."""
        return dict(self.answers).get(path, stand_in)

    def yes(self, path: Path) -> bool:
        """Whether the answer is yes."""
        return self.text(path) == "yes"

    def given(self, path: Path) -> bool:
        """Whether there is an answer other than ``skip``."""
        return self.text(path, SKIPPED[0]) not in SKIPPED

    @property
    def unit(self) -> Unit:
        """The unit of bare numbers."""
        return Unit(self.text(("units",), Unit.INCH.value))

    def length(self, path: Path) -> Fraction:
        """The answer as inches, 0 where there is none."""
        return parse_length(self.text(path), self.unit) if self.given(path) else Fraction(0)

    def plus(self, path: Path, answer: str) -> Said:
        """The same with one answer more."""
        return Said((*self.answers, (path, answer)))

    def back(self) -> Said:
        """The same without the last answer."""
        return Said(self.answers[:-1])
