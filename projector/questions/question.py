"""A question: made from the declaration of a key of the job, or of its own where it is about no key.

Beside questions that are easier to see than to say stand little pictures in plain letters.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from jobs.cutting.mirroring import looks_either_way
from jobs.io.log import FileRefused
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.problems import Path
from jobs.model.records import dataclass
from jobs.model.schema import Key, When, key_at
from projector.questions.answers import Answers, job_of
from projector.questions.typed import SKIP, SKIPPED, choices_of, one_of, tidied

DROP = (
    r"  0:  Y   Y   Y      1/2:  Y       Y",
    r"                               Y",
    r"      Y   Y   Y            Y       Y",
)
TOP_TO_BOTTOM = (
    r"  no:  /|-       yes:  /|-       slid:  /|-",
    r"       -----           -----            -------",
    r"       /|-             \|-                 \|-",
)
SIDE_TO_SIDE = (
    r"  no:  /|- : /|-     yes:  /|- : -|\     slid:  /|- :",
    "           :                   :                    : -|\\",
)
HALF_TURN = (
    r"  no:  /|-  turned  -|/      yes:  /S/  turned  /S/",
    r"       looks other                 looks the same",
)
WHERE_A_ROW_STANDS = (
    r"  top:  +-----+      foot:  +-----+      level:  +-----+",
    r"        | Y Y | <-          |     |              |     |  +-----+",
    r"        |     |             | Y Y | <-           | Y Y |--| Y Y |",
    r"        +-----+             +-----+              +-----+  +-----+",
)

DRAWINGS = {
    "drop": DROP,
    "top to bottom": TOP_TO_BOTTOM,
    "side to side": SIDE_TO_SIDE,
    "half turn": HALF_TURN,
    "row": WHERE_A_ROW_STANDS,
}
"""By the name that the schema gives them; keys whose drawing is not here are told in words alone."""


Default = Callable[[Answers, Path], str]
"""The answers, and the path of the question -> the answer Enter gives; empty for none."""
Condition = Callable[[Answers, Path], bool]
"""The answers, and the group the question stands in (one window) -> whether it is asked."""
Check = Callable[[Answers, Path], None]
"""The answers, this one included, and the path of the question; raises Unfit where they do not go together."""

PATTERNED: Path = ("cloth", "patterned")
BOUGHT: Path = ("cloth", "bought")
TABLE_KNOWN: Path = ("table", "known")
HOW, RULE, ANOTHER, ANY_FLAW = "how", "rule", "another", "there"
OTHER_CLOTH, LAST = "other cloth", "last"
"""Whether a further cloth is described, and, after what goes with a window, whether that was the last one."""
"""Questions that are about no key of the job: their names stand beside those of the keys."""


Drawn = Callable[[Answers, Path], Sequence[str]]
"""The answers so far, and the group the question stands in -> lines of a picture that they make."""


def no_drawing(answers: Answers, group: Path) -> Sequence[str]:
    """There is nothing to be drawn of the answers."""
    return ()


def no_default(answers: Answers, path: Path) -> str:
    """An answer must be typed."""
    return ""


def no_check(answers: Answers, path: Path) -> None:
    """The answer goes with any other."""


def always(answers: Answers, group: Path) -> bool:
    """The question is asked whatever the answers."""
    return True


def sideways(answers: Answers, group: Path = ()) -> bool:
    """Whether the cloth is run sideways."""
    return answers.yes(("cloth", "run"))


def patterned(answers: Answers, group: Path = ()) -> bool:
    """Whether the cloth has a print that must meet: the further one that is asked about, else the first."""
    return answers.yes((*group[:2], PATTERNED[-1]) if group[:1] == ("cloths",) else PATTERNED)


def fixed(answer: str) -> Default:
    """The same default for everyone."""
    return lambda answers, path: answer


def as_before(otherwise: str | Default) -> Default:
    """The answer for the window before this one, ``otherwise`` where there is none."""

    def default(answers: Answers, path: Path) -> str:
        at = next(place for place, name in enumerate(path) if isinstance(name, int))
        number = path[at]
        before = answers.text((*path[:at], int(number) - 1, *path[at + 1 :]))
        return before or (otherwise if isinstance(otherwise, str) else otherwise(answers, path))

    return default


@dataclass(frozen=True)
class Question:
    """One question: ``ask`` it, explain its ``term`` in a line and ``more`` on ``?``; ``rest`` is its path below
    ``group``, ``choices`` what may be typed (empty: anything that its key takes). ``drawn`` is a
    picture of what was answered so far."""

    rest: Path
    ask: str
    term: str
    more: str
    choices: tuple[str, ...] = ()
    default: Default = no_default
    when: Condition = always
    group: Path = ()
    heading: str = ""
    check: Check = no_check
    picture: tuple[str, ...] = ()
    skip: bool = False
    drawn: Drawn = no_drawing

    @property
    def path(self) -> Path:
        """Where the answer belongs in the job."""
        return (*self.group, *self.rest)

    def in_group(self, group: Path) -> Question:
        """The same question asked for one window, piece or flaw."""
        return replace(self, group=group)

    def enter(self, answers: Answers) -> str:
        """The answer that Enter gives, empty where one must be typed."""
        return self.default(answers, self.path)

    def accept(self, typed: str) -> str:
        """What was typed as the answer that is kept. Raises Unfit."""
        if self.choices:
            return one_of((*self.choices, SKIP) if self.skip else self.choices, typed)
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
    asks = key.asked
    usual = _by_unit(asks.enter)
    if names[0] == "windows" and key.name != "name":
        usual = as_before(usual)
    whole = Question(
        tuple(rest),
        asks.ask,
        asks.term or key.meaning,
        asks.more,
        choices_of(key),
        default=usual,
        picture=DRAWINGS.get(key.drawing, ()),
        skip=asks.skip,
    )
    own = more.pop("when", always)
    conditions = [WHEN[one.when] for one in _keys_along(names, len(above))]
    return replace(whole, when=lambda answers, at: all(one(answers, at) for one in (*conditions, own)), **more)  # type: ignore[operator, arg-type]


def _keys_along(names: tuple[str, ...], start: int) -> list[Key]:
    keys = (key_at(Job, names[:end]) for end in range(start + 1, len(names) + 1))
    return [key for key in keys if key is not None]


def _by_unit(enter: str | tuple[str, str, str]) -> Default:
    if isinstance(enter, str):
        return fixed(enter)
    asks = dict(zip(Unit, enter, strict=True))
    return lambda answers, path: asks[answers.unit]


def _rule(wanted: str) -> Condition:
    return lambda answers, group: answers.text((*group, RULE)) == wanted


def _mirrors(key: str) -> Condition:
    path = ("cloth", "print", key)
    return lambda answers, group: answers.given(path) and answers.text(path) != "no"


def _by_rod(answers: Answers, group: Path) -> bool:
    return answers.text((*group, HOW)) == "rod" or sideways(answers)


def _has(name: str) -> Condition:
    return lambda answers, group: answers.yes((*group, name))


def _pair_of_print(answers: Answers, group: Path) -> bool:
    return answers.text((*group, "panels")) == "pair" and patterned(answers)


def _either_way(answers: Answers, group: Path) -> bool:
    try:
        job = job_of(answers)
    except FileRefused:
        return False
    return looks_either_way(job.windows[int(group[1])], job.cloth)


WHEN: Mapping[When, Condition] = MappingProxyType(
    {
        When.ALWAYS: always,
        When.PATTERNED: patterned,
        When.MIRRORS_DOWN: _mirrors("top_to_bottom"),
        When.PAIR_OF_PRINT: _pair_of_print,
        When.LOOKS_EITHER_WAY: _either_way,
        When.BY_ROD: _by_rod,
        When.BY_CUTS: lambda answers, group: answers.text((*group, HOW)) == "cuts",
        When.BELOW_TOP: _rule("top"),
        When.ABOVE_FOOT: _rule("foot"),
        When.LEVEL_WITH: _rule("level"),
        When.LINED: _has("lined"),
        When.INTERLINED: _has("interlined"),
        When.TIED_BACK: _has("tied back"),
    }
)
"""What the schema says of when a key appears, asked of the answers so far."""
