"""From one job to another as edits of its text: what a way to save cloth would change, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jobs.io.editing import Edit
from jobs.io.writer import scalar_text
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.problems import Path
from jobs.model.schema import Group, Groups, Key, When, keys_before, keys_of


def differences(before: Job, after: Job) -> list[Edit]:
    """The edits that make the text of ``before`` say what ``after`` says, each new key in its usual place.

    Lists may grow at their end and their items may change; items that are taken out are not written so. Raises
    ValueError for a list that got shorter and for a length too long to be written.
    """
    return list(_between(before, after, (), after.unit))


def _between(before: Any, after: Any, path: Path, unit: Unit) -> Iterator[Edit]:
    for key in keys_of(type(after)):
        old, new = getattr(before, key.field), getattr(after, key.field)
        if old == new:
            continue
        at = (*path, key.name)
        if isinstance(key.kind, Groups):
            yield from _lists(old, new, at, unit)
        elif isinstance(key.kind, Group) and old is not None and new is not None:
            yield from _between(old, new, at, unit)
        else:
            yield Edit(at, None if new is None else _written(new, key, unit), keys_before(Job, at))
            if key.name == "rod" and new is None:
                yield from _of_rod(before, path)


def _of_rod(before: Any, path: Path) -> Iterator[Edit]:
    """What has no meaning without the rod goes with it."""
    for key in keys_of(type(before)):
        if key.when is When.BY_ROD and key.name != "rod":
            yield Edit((*path, key.name), None)


def _lists(old: tuple[Any, ...], new: tuple[Any, ...], path: Path, unit: Unit) -> Iterator[Edit]:
    if len(new) < len(old):
        raise ValueError(f"{path} has lost an item")
    for number, (one, other) in enumerate(zip(old, new, strict=False)):
        yield from _between(one, other, (*path, number), unit)
    for number in range(len(old), len(new)):
        item = _braces(new[number], unit)
        yield Edit((*path, number), item) if number else Edit(path, f"[{item}]", keys_before(Job, path))


def _written(value: Any, key: Key, unit: Unit) -> str:
    return _braces(value, unit) if isinstance(key.kind, Group) else scalar_text(value, key.kind, unit)


def _braces(model: Any, unit: Unit) -> str:
    """The keys of a mapping that are not what is taken when they are left out, on one line."""
    told = [
        f"{key.name}: {_written(value, key, unit)}"
        for key in keys_of(type(model))
        if (value := getattr(model, key.field)) is not None and (key.needed or value != key.taken)
    ]
    return "{" + ", ".join(told) + "}"
