"""What a person has said so far: answers in the order they were given, as they were typed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.lengths import parse_length

SKIPPED = ("skip", "-")


@dataclass(frozen=True)
class Said:
    """Pairs of question key and answer. Answers were accepted, so they can be read again."""

    answers: tuple[tuple[str, str], ...] = ()

    def has(self, key: str) -> bool:
        """Whether this question was answered."""
        return any(key == answered for answered, _ in self.answers)

    def text(self, key: str, stand_in: str = "") -> str:
        """The answer as it was accepted, ``stand_in`` where there is none."""
        return dict(self.answers).get(key, stand_in)

    def yes(self, key: str) -> bool:
        """Whether the answer is yes."""
        return self.text(key) == "yes"

    def given(self, key: str) -> bool:
        """Whether there is an answer other than ``skip``."""
        return self.text(key, SKIPPED[0]) not in SKIPPED

    @property
    def unit(self) -> Unit:
        """The unit of bare numbers."""
        return Unit(self.text("units", Unit.INCH.value))

    def length(self, key: str, stand_in: Fraction = Fraction(0)) -> Fraction:
        """The answer as inches."""
        return parse_length(self.text(key), self.unit) if self.given(key) else stand_in

    def plus(self, key: str, answer: str) -> Said:
        """The same with one answer more."""
        return Said((*self.answers, (key, answer)))

    def back(self) -> Said:
        """The same without the last answer."""
        return Said(self.answers[:-1])
