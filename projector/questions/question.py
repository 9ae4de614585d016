"""A question: made from the declaration of a key of the job, or of its own where it is about no key."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.problems import Path
from jobs.model.schema import Key, When, key_at
from projector.questions.answers import SKIP, answers_of, one_of, tidied
from projector.questions.said import SKIPPED, Said
from projector.questions.small_pictures import DRAWINGS

Default = Callable[[Said, Path], str]
"""What was said, and the path of the question -> the answer Enter gives; empty for none."""
Condition = Callable[[Said, Path], bool]
"""What was said, and the group the question stands in (one window) -> whether it is asked."""
Check = Callable[[Said, Path], None]
"""What was said, this answer included, and the path of the question; raises Unfit where they do not go together."""

PATTERNED: Path = ("cloth", "patterned")
BOUGHT: Path = ("cloth", "bought")
TABLE_KNOWN: Path = ("table", "known")
HOW, RULE, ANOTHER, ANY_FLAW = "how", "rule", "another", "there"
"""Questions that are about no key of the job: their names stand beside those of the keys."""


def no_default(said: Said, path: Path) -> str:
    """An answer must be typed."""
    return ""


def no_check(said: Said, path: Path) -> None:
    """The answer goes with any other."""


def always(said: Said, group: Path) -> bool:
    """The question is asked whatever was said."""
    return True


def sideways(said: Said, group: Path = ()) -> bool:
    """Whether the cloth is run sideways."""
    return said.yes(("cloth", "run"))


def patterned(said: Said, group: Path = ()) -> bool:
    """Whether the cloth has a print that must meet."""
    return said.yes(PATTERNED)


def fixed(answer: str) -> Default:
    """The same default for everyone."""
    return lambda said, path: answer


def as_before(otherwise: str) -> Default:
    """What was said for the window before this one."""

    def default(said: Said, path: Path) -> str:
        at = next(place for place, name in enumerate(path) if isinstance(name, int))
        number = path[at]
        return said.text((*path[:at], int(number) - 1, *path[at + 1 :]), otherwise)

    return default


@dataclass(frozen=True)
class Question:
    """One question: ``ask`` it, explain its ``term`` in a line and ``more`` on ``?``; ``rest`` is its path below
    ``group``, ``answers`` what may be typed (empty: anything that its key takes)."""

    rest: Path
    ask: str
    term: str
    more: str
    answers: tuple[str, ...] = ()
    default: Default = no_default
    when: Condition = always
    group: Path = ()
    heading: str = ""
    check: Check = no_check
    picture: tuple[str, ...] = ()
    skip: bool = False

    @property
    def path(self) -> Path:
        """Where the answer belongs in the job."""
        return (*self.group, *self.rest)

    def in_group(self, group: Path) -> Question:
        """The same question asked for one window, piece or flaw."""
        return replace(self, group=group)

    def enter(self, said: Said) -> str:
        """The answer that Enter gives, empty where one must be typed."""
        return self.default(said, self.path)

    def accept(self, typed: str) -> str:
        """What was typed as the answer that is kept. Raises Unfit."""
        if self.answers:
            return one_of((*self.answers, SKIP) if self.skip else self.answers, typed)
        if self.skip and typed.casefold() in SKIPPED:
            return SKIPPED[0]
        key = key_at(Job, self.path)
        return tidied(key, typed) if key is not None else typed


def asked(path: str, group: str = "", **more: object) -> Question:
    """The question about a key, by its names with points between, below the list it is in. Raises KeyError for none.

    It is asked where the schema says that the key appears, and where ``when`` holds too.
    """
    rest, above = path.split("."), group.split(".") if group else []
    names = (*above, *rest)
    key = key_at(Job, names)
    if key is None or key.asked is None:
        raise KeyError(".".join(names))
    told = key.asked
    usual = _by_unit(told.enter)
    if names[0] == "windows" and key.name != "name":
        usual = as_before(told.enter if isinstance(told.enter, str) else "")
    whole = Question(
        tuple(rest),
        told.ask,
        told.term or key.meaning,
        told.more,
        answers_of(key),
        default=usual,
        picture=DRAWINGS.get(key.drawing, ()),
        skip=told.skip,
    )
    own = more.pop("when", always)
    conditions = [WHEN[one.when] for one in _keys_along(names, len(above))]
    return replace(whole, when=lambda said, at: all(one(said, at) for one in (*conditions, own)), **more)  # type: ignore[operator, arg-type]


def _keys_along(names: tuple[str, ...], start: int) -> list[Key]:
    keys = (key_at(Job, names[:end]) for end in range(start + 1, len(names) + 1))
    return [key for key in keys if key is not None]


def _by_unit(enter: str | tuple[str, str, str]) -> Default:
    if isinstance(enter, str):
        return fixed(enter)
    told = dict(zip(Unit, enter, strict=True))
    return lambda said, path: told[said.unit]


def _rule(wanted: str) -> Condition:
    return lambda said, group: said.text((*group, RULE)) == wanted


def _mirrors(key: str) -> Condition:
    path = ("cloth", "print", key)
    return lambda said, group: said.given(path) and said.text(path) != "no"


def _by_rod(said: Said, group: Path) -> bool:
    return said.text((*group, HOW)) == "rod" or sideways(said)


def _pair_of_print(said: Said, group: Path) -> bool:
    return said.text((*group, "panels")) == "pair" and patterned(said)


WHEN: Mapping[When, Condition] = MappingProxyType(
    {
        When.ALWAYS: always,
        When.PATTERNED: patterned,
        When.MIRRORS_DOWN: _mirrors("top_to_bottom"),
        When.PAIR_OF_PRINT: _pair_of_print,
        When.BY_ROD: _by_rod,
        When.BY_CUTS: lambda said, group: said.text((*group, HOW)) == "cuts",
        When.BELOW_TOP: _rule("top"),
        When.ABOVE_FOOT: _rule("foot"),
        When.LEVEL_WITH: _rule("level"),
    }
)
"""What the schema says of when a key appears, asked of the answers so far."""
