"""A whole job as the text of a job file, with remarks for the person who will change a number in it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jobs.io import scalars
from jobs.model.choices import PrintKey, Unit
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.schema import (
    Choice,
    Colour,
    Count,
    EachSide,
    Group,
    Groups,
    Key,
    Kind,
    Length,
    Number,
    PlaneGroup,
    Several,
    Share,
    Text,
    Two,
    Write,
    YesNo,
    keys_of,
)

HEAD = (
    "# A job for lightchalk. Change any number in a text editor; what stands after # is a remark.",
    "# A length may carry its own unit: 11 1/4 | 28.6 cm | 6 yd | 5 ft 6 in",
)
REMARK_COLUMN = 40
_MIRRORS = {PrintKey.TOP_TO_BOTTOM, PrintKey.SIDE_TO_SIDE}


def job_text(job: Job) -> str:
    """The text of a job file that reads back as ``job`` (its notices apart). Raises ValueError for a length whose
    exact fraction is too long to be written."""
    return "\n".join([*HEAD, *_Writer(job.unit, job.cloth).lines(job, 0)]) + "\n"


def scalar_text(value: Any, kind: Kind, unit: Unit) -> str:
    """A single value as it is written in a file of this unit. Raises ValueError for one too long to be written."""
    if isinstance(value, EachSide):
        return f"{{near: {scalars.length(value.near, unit)}, far: {scalars.length(value.far, unit)}}}"
    match kind:
        case Length():
            return scalars.as_sold(value, unit) if kind.sold else scalars.length(value, unit)
        case Share():
            return scalars.share(value)
        case Number():
            return scalars.number(value)
        case YesNo():
            return scalars.yes_no(value)
        case Colour():
            return f'"{value}"'
        case Text():
            return scalars.text(value)
        case Choice():
            return str(value.value)
        case Count() | PlaneGroup():
            return str(value)
        case Several():
            return "[" + ", ".join(scalar_text(one, kind.of, unit) for one in value) + "]"
        case Two():
            return "[" + ", ".join(scalar_text(one, kind.of, unit) for one in value) + "]"
        case _:
            raise TypeError(f"{kind} is not a single value")


class _Writer:
    """Writes frozen classes by the declarations of their keys."""

    def __init__(self, unit: Unit, cloth: Cloth) -> None:
        self.unit = unit
        self.patterned = cloth.repeat is not None
        self.not_known = cloth.not_known

    def lines(self, model: Any, indent: int) -> Iterator[str]:
        """The lines of one mapping; a key with keys below it stands apart at the root."""
        if isinstance(model, Cloth):
            yield from _Writer(self.unit, model)._lines(model, indent)
        else:
            yield from self._lines(model, indent)

    def _lines(self, model: Any, indent: int) -> Iterator[str]:
        for key in self._written(model):
            value = getattr(model, key.field)
            if key.name in self.not_known:
                yield f"{' ' * indent}# {key.name}: not known yet ({key.remark})"
                continue
            if indent == 0 and isinstance(key.kind, Group | Groups) and not getattr(key.kind, "flow", False):
                yield ""
            yield from self._entry(key, value, indent)

    def _written(self, model: Any) -> list[Key]:
        return [key for key in keys_of(type(model)) if self._is_written(key, model)]

    def _is_written(self, key: Key, model: Any) -> bool:
        value = getattr(model, key.field)
        always = {
            Write.ALWAYS: True,
            Write.PATTERNED: self.patterned,
            Write.BY_ROD: getattr(model, "rod", None) is not None,
            Write.CHANGED: False,
        }
        if key.name == "half_turn" and not value and self.not_known & _MIRRORS:
            # Where a mirror is not known, a half-turn that is not there would say that it is not there either.
            return False
        return value is not None and (key.needed or always[key.write] or value != key.taken)

    def _entry(self, key: Key, value: Any, indent: int) -> Iterator[str]:
        kind = key.kind
        if isinstance(kind, Group) and not kind.flow:
            inside = list(self.lines(value, indent + 2))
            # A key with nothing but remarks under it would be refused.
            if not all(one.lstrip().startswith("#") for one in inside):
                yield _line(indent, key.name, "", key.remark)
            yield from inside
        elif isinstance(kind, Groups):
            yield _line(indent, key.name, "", key.remark)
            for one in value:
                item = [f"{' ' * (indent + 4)}{self._braces(one)}"] if kind.flow else list(self.lines(one, indent + 4))
                yield f"{' ' * (indent + 2)}- {item[0].lstrip()}"
                yield from item[1:]
        elif isinstance(kind, Group):
            yield _line(indent, key.name, self._braces(value), key.remark)
        else:
            yield _line(indent, key.name, scalar_text(value, kind, self.unit), key.remark)

    def _braces(self, model: Any) -> str:
        """A mapping on one line: ``{from: 96, to: 98 1/2}``."""
        entries = []
        for key in self._written(model):
            value = getattr(model, key.field)
            shown = self._braces(value) if isinstance(key.kind, Group) else scalar_text(value, key.kind, self.unit)
            entries.append(f"{key.name}: {shown}")
        return "{" + ", ".join(entries) + "}"


def _line(indent: int, name: str, value: str, remark: str) -> str:
    """``key: value  # remark``, indented by ``indent`` blanks."""
    start = f"{' ' * indent}{name}:" + (f" {value}" if value else "")
    return f"{start:<{REMARK_COLUMN - 1}} # {remark}" if remark else start
