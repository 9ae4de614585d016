"""From a problem to its words: templates filled in with its values, in the unit of the job, for a file or a form."""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable, Mapping, Sequence
from enum import StrEnum, auto
from fractions import Fraction
from typing import Any, ClassVar

from calibration.problems import Problem as CalibrationProblem
from jobs.io.log import FileRefused
from jobs.model.choices import Unit
from jobs.model.groups import GROUPS
from jobs.model.job import Job
from jobs.model.lengths import show_length, show_share
from jobs.model.numbers import quoted, show_number
from jobs.model.problems import Path, Problem
from jobs.model.schema import Choice, Key, walk
from jobs.model.window import Window
from projector.words.calibration_problems import CALIBRATION, STANDING
from projector.words.cut_problems import CUTS, MADE
from projector.words.file_problems import TABLE_FILES
from projector.words.job_problems import BELONGS, DOUBTS, FILES, JOBS, Words
from projector.words.measures import format_length, format_marks, format_read, listed
from projector.words.photograph_problems import PHOTOGRAPHS

WORDS: Mapping[StrEnum, Words] = {
    **FILES,
    **JOBS,
    **CUTS,
    **DOUBTS,
    **MADE,
    **TABLE_FILES,
    **CALIBRATION,
    **PHOTOGRAPHS,
}
AnyProblem = Problem | CalibrationProblem


class Voice(StrEnum):
    """Whom the words are for: somebody with the file before them, or with the form."""

    FILE = auto()
    FORM = auto()


def words(problem: AnyProblem, unit: Unit = Unit.INCH, voice: Voice = Voice.FILE) -> Words:
    """What is wrong, and what to write or do instead. Raises KeyError for a code that has no words."""
    what, advice = WORDS[problem.code]
    filled = _Filled(unit, voice)
    values = dict(problem.values)
    return filled.vformat(what, (), values), filled.vformat(advice, (), values)


def sentence(problem: AnyProblem, unit: Unit = Unit.INCH, voice: Voice = Voice.FILE) -> str:
    """Both as one: ``what is wrong; what to do``."""
    return "; ".join(words(problem, unit, voice))


def file_lines(refused: FileRefused) -> tuple[str, ...]:
    """A line for each problem of a file: ``file:line:column: where: what is wrong; what to write instead``."""
    file = refused.file if refused.file.isprintable() else quoted(refused.file, 200)
    placed = zip(refused.problems, refused.places, strict=True)
    return tuple(
        f"{file}:{place.line}:{place.column}: {where(one.path)}: {sentence(one, refused.unit)}" for one, place in placed
    )


def called(windows: Iterable[Window]) -> list[str]:
    """What problems call windows: by their names, and windows whose names have not that word by it as well."""
    return [
        one.name if one.made is not None or "window" in one.name.casefold().split() else f"window {one.name}"
        for one in windows
    ]


def where(path: Path, windows: Sequence[str] = (), cloth: str = "") -> str:
    """The place as problems show it, list items counted from 1: ``cloth, pieces 1, flaws 2, from``.

    Where it is given what the ``windows`` are called, a window is called so: ``window Stairs, row``; and so is the
    ``cloth`` of a job that has several: ``cloth Plain sateen, pieces 1``.
    """
    said = ""
    if cloth and path[:1] == ("cloth",):
        said, path = f"cloth {cloth}", path[1:]
    if len(path) > 1 and path[0] == "windows" and isinstance(path[1], int) and path[1] < len(windows):
        said, path = windows[path[1]], path[2:]
    for name in path:
        if isinstance(name, int):
            said += f" {name + 1}"
        else:
            shown = name if name.isidentifier() and len(name) <= 40 else quoted(name)
            said += f", {shown}" if said else shown
    return said or "file"


class _Filled(string.Formatter):
    """Fills templates: every value is shown by the kind its template names."""

    def __init__(self, unit: Unit, voice: Voice) -> None:
        self.unit = unit
        self.voice = voice

    def get_value(self, key: int | str, args: Sequence[Any], kwargs: Mapping[str, Any]) -> Any:
        if key in ("write", "groups"):
            return key
        if key == "key":
            return kwargs
        return kwargs.get(str(key))

    def format_field(self, value: Any, format_spec: str) -> str:
        if value == "write":
            return self._write(*format_spec.split("=", 1))
        if isinstance(value, Mapping) and format_spec == "row_value":
            return self._row(str(value["key_name"]), value["value"])
        if isinstance(value, Mapping):
            return self._key(str(value["key"]) if format_spec == "key_value" else format_spec)
        return self._SHOWN[format_spec](self, value) if format_spec else str(value)

    def _key(self, name: str) -> str:
        key = _KEYS.get(name)
        return f"\u201c{key.label}\u201d" if key is not None and self.voice is Voice.FORM else f"`{name}`"

    def _row(self, key: str, value: Fraction) -> str:
        shown = show_length(value, self.unit)
        return f"{shown} under {self._key(key)}" if self.voice is Voice.FORM else f"`row: {{{key}: {shown}}}`"

    def _write(self, name: str, value: str = "") -> str:
        key = _KEYS.get(name)
        if key is None or self.voice is Voice.FILE:
            return f"write `{name}: {value}`" if value else f"write `{name}`"
        if not value:
            return f"fill in \u201c{key.label}\u201d"
        end = "" if key.label.endswith("?") else ":"
        return f"choose \u201c{key.label}{end} {_label(key, value)}\u201d"

    def _settings(self, group: str) -> str:
        ways = (
            {"top_to_bottom": one.top_to_bottom, "side_to_side": one.side_to_side, "half_turn": _YES_NO[one.half_turn]}
            for one in GROUPS[group]
        )
        told = [", ".join(f"{self._key(name)} {value}" for name, value in way.items()) for way in ways]
        return f"{group} means {listed(told, 'or')}"

    def _better(self, value: str | None) -> str:
        return value if value is not None else f"{BELONGS['length']}, with nothing between thousands"

    _SHOWN: ClassVar[dict[str, Callable[[Any, Any], str]]] = {
        "length": lambda self, value: show_length(value, self.unit),
        "number": lambda self, value: show_number(Fraction(value)),
        "share": lambda self, value: show_share(value),
        "much": lambda self, value: "much" if value else "little",
        "at": lambda self, value: "at most" if value else "at least",
        ",": lambda self, value: f"{value:,}",
        "quoted": lambda self, value: quoted(str(value)),
        "plain": lambda self, value: quoted(str(value), 80)[1:-1] if value else "it is not YAML",
        "reason": lambda self, value: value or "the name cannot be used",
        "hex": lambda self, value: f"{value:#04x}",
        "or": lambda self, value: listed(list(GROUPS) if value == "groups" else value, "or"),
        "and": lambda self, value: listed(value),
        "line": lambda self, value: f" (line {value})" if value else "",
        "key": lambda self, value: self._key(value),
        "no turning": lambda self, value: (
            "and the cloth is one-way" if value else "and its print has no mirror from top to bottom, or hangs the same"
        ),
        "names": lambda self, value: listed([quoted(one) for one in value], "or"),
        "belongs": lambda self, value: BELONGS[value],
        "below": lambda self, value: "below " if value else "",
        "better": _better,
        "meant": lambda self, value: f"write {value} if that is meant, one of " if value else "write ",
        "known": lambda self, value: f"known here: {', '.join(value)}" if value else "nothing else belongs here",
        "mirror": lambda self, value: self._write(value, "mirror"),
        "offset": lambda self, value: self._key(_OFFSETS[value]),
        "settings": lambda self, value: self._settings(value),
        "lines": lambda self, value: listed(value),
        "list": lambda self, value: ", ".join(value),
        "marks": lambda self, value: format_marks(value),
        "all but the first": lambda self, value: _all_but_the_first(value),
        "swaps": lambda self, value: ", ".join(
            f"mark {mark} takes the pixel of mark {other}" for mark, other in enumerate(value, 1) if mark != other
        ),
        "by": lambda self, value: f" by {format_length(value, self.unit.value)}" if value is not None else "",
        "taped": lambda self, value: format_length(value, self.unit.value),
        "read": lambda self, value: format_read(value, self.unit.value),
        "standing": lambda self, value: STANDING[value],
        "high": lambda self, value: "high" if value else "low",
        "there are photographs": lambda self, value: {0: "there is no photograph", 1: "there is one photograph"}.get(
            value, f"there are {value} photographs"
        ),
        "there are marks": lambda self, value: {0: "there are no marks", 1: "there is one mark"}.get(
            value, f"there are {value} marks"
        ),
        "or_without": lambda self, value: "" if value else ", or give it [ ] to do without",
    }


def _all_but_the_first(marks: Sequence[int]) -> str:
    first, *others = marks
    return f"mark {others[0]} or leave it" if len(others) == 1 else f"all but mark {first} or leave them"


_YES_NO = ("no", "yes")
_OFFSETS: dict[str, str] = {"top_to_bottom": "mirror_offset", "side_to_side": "mirror_offset_across"}


def _label(key: Key, value: str) -> str:
    if isinstance(key.kind, Choice):
        return dict(zip((word.value for word in key.kind.words), key.kind.labels, strict=True)).get(value, value)
    return value


_KEYS: dict[str, Key] = {}
for _path, _one in walk(Job):
    _KEYS.setdefault(_one.name, _one)
