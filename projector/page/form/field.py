"""A field of the form as data: where it stands in the job file, what it is called and what it means."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum, auto

from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.page.form.values import Values

When = Callable[[Values, Path], bool]
"""What the file says and the path of the group (one window, one piece) -> whether the field is shown."""


class Kind(Enum):
    """What is typed or chosen in a field."""

    LENGTH = auto()
    NAME = auto()
    NUMBER = auto()
    SHARE = auto()
    COLOUR = auto()
    CHOICE = auto()
    WINDOW = auto()
    """The name of another window."""
    CLOTH = auto()
    """The name of a cloth of the job."""
    FILE = auto()
    """The name of a picture, from the folder of the job."""
    COLOURS = auto()
    """Several colours, a comma between them."""
    SEVERAL = auto()
    """Any of the choices, a comma between them."""


def always(values: Values, group: Path) -> bool:
    """The field is shown whatever the file says."""
    return True


@dataclass(frozen=True)
class Choice:
    """One of the words a file knows, and what a person reads for it."""

    word: str
    label: str


@dataclass(frozen=True)
class Field:
    """``key`` is the path below that of its group; ``term`` explains it in a line; ``usual`` is taken when left out."""

    key: Path
    label: str
    term: str
    kind: Kind = Kind.LENGTH
    needed: bool = False
    choices: tuple[Choice, ...] = ()
    usual: str = ""
    when: When = always

    @property
    def listed(self) -> bool:
        """Whether its value is a list in the file."""
        return self.kind in (Kind.COLOURS, Kind.SEVERAL)


@dataclass(frozen=True)
class Switch:
    """A question whose answer decides which keys there are: ``now`` reads the answer from the file.

    ``keys`` are, for each answer, the keys below the group's path it needs, with what is written when they are new.
    Keys of the other answers go; what they said is kept aside for a change of mind.
    """

    name: str
    label: str
    term: str
    choices: tuple[Choice, ...]
    now: Callable[[Values, Path], str]
    keys: dict[str, tuple[tuple[Path, str], ...]]
    when: When = always


Item = Field | Switch


@dataclass(frozen=True)
class Group:
    """Fields that stand together; ``many`` groups are lists whose items are called ``thing``."""

    title: str
    path: Path
    items: tuple[Item, ...]
    many: bool = False
    thing: str = ""
    new: tuple[tuple[str, str], ...] = ()
    """The keys a new item begins with."""
    within: tuple[Group, ...] = ()
    """Lists inside each item, their paths below it."""
    when: When = always
    least: int = 0


@dataclass(frozen=True)
class Section:
    """A page of the form: what it is called and what to do there, in one sentence."""

    key: str
    title: str
    intro: str
    groups: tuple[Group, ...]
    when: When = always
