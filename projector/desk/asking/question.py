"""A question as data, and how its default depends on what was said before."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from projector.desk.asking.answers import Accept
from projector.desk.asking.said import Said

Default = Callable[[Said, str], str]
"""What was said, and the key of the question -> the answer Enter gives; empty for none."""
When = Callable[[Said, str], bool]
"""What was said, and the group the question stands in (``window 2``) -> whether it is asked."""
Check = Callable[[Said, str], None]
"""What was said, this answer included, and the key of the question; raises Unfit where they do not go together."""


def none(said: Said, key: str) -> str:
    """No default: an answer must be given."""
    return ""


def no_check(said: Said, key: str) -> None:
    """The answer goes with any other."""


def always(said: Said, group: str) -> bool:
    """The question is asked whatever was said."""
    return True


def fixed(answer: str) -> Default:
    """The same default for everyone."""
    return lambda said, key: answer


def by_unit(inches: str, centimetres: str, millimetres: str) -> Default:
    """A default in the unit of the job."""
    answers = {"in": inches, "cm": centimetres, "mm": millimetres}
    return lambda said, key: answers[said.unit.value]


def as_before(otherwise: str) -> Default:
    """What was said for the window before this one."""

    def default(said: Said, key: str) -> str:
        group, _, name = key.rpartition(" ")
        word, _, number = group.rpartition(" ")
        return said.text(f"{word} {int(number) - 1} {name}", otherwise)

    return default


@dataclass(frozen=True)
class Question:
    """One question: ``ask`` it, explain its ``term`` in a line and ``more`` on ``?``, ``accept`` an answer."""

    key: str
    ask: str
    term: str
    more: str
    accept: Accept
    default: Default = none
    when: When = always
    group: str = ""
    heading: str = ""
    check: Check = no_check
    picture: tuple[str, ...] = ()

    def in_group(self, group: str) -> Question:
        """The same question asked for one window, piece or flaw."""
        return replace(self, key=f"{group} {self.key}", group=group)

    def enter(self, said: Said) -> str:
        """The answer that Enter gives, empty where one must be typed."""
        return self.default(said, self.key)
