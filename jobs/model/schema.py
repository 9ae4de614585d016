"""How a key of the job file is declared: once, beside the field of the frozen job that it fills.

A field of the job carries a ``Key`` in its metadata. Reader, writer, questions, form, change of unit, completion and
the reference page of the job format all walk these declarations, so that a new key is written in one place.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Hashable, Iterator
from dataclasses import MISSING
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import Any, cast

from jobs.model.records import dataclass

ZERO = Fraction(0)


@dataclass(frozen=True)
class Length:
    """A length, kept in inches; a bare number is in the unit of the job. ``sold``: written in yards where it can be.

    ``sides``: a mapping ``{near: 1/2, far: 3/4}`` may stand in its place, kept as ``EachSide``.
    """

    above_zero: bool = False
    sold: bool = False
    sides: bool = False


@dataclass(frozen=True)
class EachSide:
    """A length at the near selvedge and another at the far one, where they differ."""

    near: Fraction
    far: Fraction


SIDES = ("near", "far")


@dataclass(frozen=True)
class Share:
    """A share written with its sign, ``3 %``, kept as 3/100; below ``below``."""

    below: Fraction = Fraction(1)


@dataclass(frozen=True)
class Number:
    """A bare number from ``least`` to ``most`` (``below``: not ``most`` itself); ``halves``: in steps of a half."""

    least: Fraction
    most: Fraction
    below: bool = False
    halves: bool = False


@dataclass(frozen=True)
class Count:
    """A whole number from ``least`` to ``most``."""

    least: int
    most: int


@dataclass(frozen=True)
class Text:
    """A name on one line; ``of`` says whose: another window's, a flat panel's, a cloth's, a file's."""

    of: str = ""


@dataclass(frozen=True)
class YesNo:
    """``yes`` or ``no``."""


@dataclass(frozen=True)
class Colour:
    """A colour ``"#rrggbb"``."""


@dataclass(frozen=True)
class Choice:
    """One word of an enumeration; ``labels`` are what a person reads for its members, in their order."""

    words: type[StrEnum]
    labels: tuple[str, ...]


@dataclass(frozen=True)
class PlaneGroup:
    """The name of one of the 17 plane groups."""


@dataclass(frozen=True)
class Several:
    """A list of single values, each called ``thing``."""

    of: Text | Colour | Choice
    thing: str


@dataclass(frozen=True)
class Two:
    """Two lengths in brackets, ``[10, 14]``; ``labels`` say what the first and the second is."""

    of: Length
    labels: tuple[str, str]


@dataclass(frozen=True)
class Group:
    """A mapping of further keys, those of a frozen class; ``flow``: written in braces on one line."""

    of: type
    flow: bool = False


@dataclass(frozen=True)
class Groups:
    """A list of mappings, each called ``thing``."""

    of: type
    thing: str
    least: int = 0
    flow: bool = False


Kind = Length | Share | Number | Count | Text | YesNo | Colour | Choice | PlaneGroup | Several | Two | Group | Groups


class When(StrEnum):
    """What makes a key appear in the form and among the questions."""

    ALWAYS = "always"
    PATTERNED = "the cloth has a repeat"
    MIRRORS_DOWN = "the print mirrors from top to bottom"
    MIRRORS_ACROSS = "the print mirrors from side to side"
    SIDEWAYS = "the cloth is run sideways"
    PAIR_OF_PRINT = "the window has a pair of patterned cloth"
    LOOKS_EITHER_WAY = "one panel of its pair is turned or used face down"
    BY_ROD = "the window is worked out from its rod"
    BY_CUTS = "the number of cuts is given"
    NARROW = "the window may have half or narrow cuts"
    SEVERAL_WINDOWS = "there are several windows"
    SEVERAL_CLOTHS = "there are several cloths"
    LINED = "the window is lined"
    INTERLINED = "the window is interlined"
    BORDERED = "the cloth has a border that leads"
    TIED_BACK = "the window has tie-backs"
    OWN_ALLOWANCES = "the window has turnings of its own"
    PINS = "pins are wanted"
    ANY_ROD = "some window is worked out from its rod"
    BELOW_TOP = "a row is set from the top"
    ABOVE_FOOT = "a row is set from the foot"
    LEVEL_WITH = "rows are level with another window"


class Write(StrEnum):
    """When a whole new job file names a key."""

    CHANGED = "where it differs from what is taken when it is left out"
    ALWAYS = "always"
    PATTERNED = "always on patterned cloth"
    BY_ROD = "always where the rod is given"


@dataclass(frozen=True)
class Asked:
    """How a key is asked for, one at a time: the question, what more is told on request, and what Enter alone answers.

    ``enter`` is one answer, or three: in inches, centimetres and millimetres; empty: an answer must be typed. ``term``
    stands in the place of the key's meaning where the answers need explaining. ``answers`` are what may be typed for
    the words of a choice, in their order, each with what else is taken for it: ``no,n``. ``skip``: it may be passed
    over, and is then left out.
    """

    ask: str
    more: str
    enter: str | tuple[str, str, str] = ""
    term: str = ""
    answers: tuple[str, ...] = ()
    skip: bool = False


@dataclass(frozen=True)
class Key:
    """One key of the job file.

    ``label`` stands beside its field, ``meaning`` explains it in one line, ``usual`` says in words what is taken where
    it is left out (empty: nothing is). ``told``: that it was left out is said when a job is read. Values outside
    ``doubt`` (inches, or the number itself) are legal but absurd. ``remark`` stands behind the value in a new file;
    ``drawing`` names the little picture that explains it; ``asked``: it is among the questions. ``taken`` is the value
    where the file leaves it out. ``instead`` is the key that may stand in the place of one that is needed.
    """

    name: str
    field: str
    kind: Kind
    label: str
    meaning: str
    usual: str
    needed: bool
    told: bool
    doubt: tuple[Fraction | None, Fraction | None] | None
    when: When
    write: Write
    remark: str
    drawing: str
    asked: Asked | None
    taken: Any
    instead: str = ""


_META = "key"


def key(
    kind: Kind,
    label: str,
    meaning: str,
    *,
    default: Any = MISSING,
    name: str = "",
    usual: str = "",
    left_out: Any = MISSING,
    told: bool = False,
    doubt: tuple[Fraction | float | str | None, Fraction | float | str | None] | None = None,
    when: When = When.ALWAYS,
    write: Write = Write.CHANGED,
    remark: str = "",
    drawing: str = "",
    asked: Asked | None = None,
    instead: str = "",
) -> Any:
    """A dataclass field that is a key of the job file.

    ``default`` is the field's own; without one the field must be given to the class, and the key must be in the file
    unless ``left_out`` says what is taken. ``name`` is the word in the file where it differs from the field's.
    """
    bounds = None if doubt is None else tuple(None if end is None else Fraction(end) for end in doubt)
    told_of: dict[str, Any] = {
        "kind": kind,
        "label": label,
        "meaning": meaning,
        "name": name,
        "usual": usual,
        "told": told,
        "doubt": bounds,
        "when": when,
        "write": write,
        "remark": remark,
        "drawing": drawing,
        "asked": asked,
        "taken": left_out if left_out is not MISSING else default,
        "instead": instead,
    }
    return dataclasses.field(default=default, metadata={_META: told_of})


def keys_of(model: type) -> tuple[Key, ...]:
    """The keys of a frozen class of the job, in the order of its fields."""
    return _keys_of(cast("Hashable", model))


@cache
def _keys_of(model: Any) -> tuple[Key, ...]:
    found = []
    for field in dataclasses.fields(model):
        declared = field.metadata.get(_META)
        if declared is not None:
            needed = declared["taken"] is MISSING
            rest = {**declared, "name": declared["name"] or field.name, "taken": None if needed else declared["taken"]}
            found.append(Key(field=field.name, needed=needed, **rest))
    return tuple(found)


def key_named(model: type, name: str) -> Key | None:
    """The key of this name, None where the class has none."""
    return next((one for one in keys_of(model) if one.name == name), None)


def walk(model: type, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Key]]:
    """Every key below a class with its names from the root down; list items are not numbered."""
    for one in keys_of(model):
        at = (*path, one.name)
        yield at, one
        if isinstance(one.kind, Group | Groups):
            yield from walk(one.kind.of, at)


def keys_before(model: type, path: tuple[str | int, ...]) -> tuple[str, ...]:
    """The keys that stand before the one at the path in a new file, the nearest first; none where there is no such."""
    above = key_at(model, path[:-1])
    inner = above.kind.of if above is not None and isinstance(above.kind, Group | Groups) else model
    names = [one.name for one in keys_of(inner)]
    return tuple(reversed(names[: names.index(path[-1])])) if path[-1] in names else ()


def key_at(model: type, path: tuple[str | int, ...]) -> Key | None:
    """The key a path of names and item numbers leads to, None where there is no such key."""
    found: Key | None = None
    for name in path:
        if isinstance(name, int):
            continue
        found = key_named(model, name)
        if found is None:
            return None
        if isinstance(found.kind, Group | Groups):
            model = found.kind.of
    return found
