"""Changes of the form made in the text of the job file: a value typed, a switch thrown, an item added or taken out."""

from __future__ import annotations

import re

from jobs.io.editing import CannotEdit, Edit, edited, written
from jobs.io.scalars import text as quoted_text
from jobs.io.source import LONGEST_LINE
from jobs.model.job import Job
from jobs.model.problems import Path
from jobs.model.schema import keys_before
from projector.page.form.field import Group, Switch
from projector.page.form.values import Values, values_of

NOTHING = '""'
_SHARE = re.compile(r"\d[\d ./]*%")
_UNFIT = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ufdd0-\ufdef\ufffe\uffff\ud800-\udfff]")

# Where a new key stands: behind the nearest of those before it in this list that is there.


def scalar(typed: str) -> str:
    """What was typed as a value of a YAML file that reads back as the same text, blanks at its ends left out."""
    plain = _UNFIT.sub(" ", typed).strip()[: LONGEST_LINE // 2]
    return plain if _SHARE.fullmatch(plain) else quoted_text(plain) if plain else NOTHING


def with_value(text: str, path: Path, typed: str, *, needed: bool = False, listed: bool = False) -> str:
    """The text with this typed at the path; an empty value takes the key out, or leaves it empty where it is needed.

    ``listed`` values are written as a list, what stands between commas an item each. Raises CannotEdit where the layout
    of the text does not allow it.
    """
    values = values_of(text)
    if listed:
        items = [scalar(item) for item in typed.split(",") if item.strip()]
        typed = ", ".join(items)
    if typed.strip():
        return edited(text, [_put(values, path, f"[{typed}]" if listed else scalar(typed))])
    if not values.has(path):
        return text
    if isinstance(path[-1], int):
        other = values.text((*path[:-1], 1 - path[-1]))
        return edited(text, [Edit(path, NOTHING)]) if other.strip() else without(text, path[:-1])
    return edited(text, [Edit(path, NOTHING)]) if needed else without(text, path)


def _put(values: Values, path: Path, value: str) -> Edit:
    if isinstance(path[-1], int) and not values.has(path[:-1]):
        pair = [NOTHING, NOTHING]
        pair[path[-1]] = value
        return _at(values, path[:-1], f"[{', '.join(pair)}]")
    return _at(values, path, value)


def _at(values: Values, path: Path, value: str) -> Edit:
    """An edit whose first new key finds its place; a single value that stands where keys belong makes way for them."""
    for depth in range(1, len(path)):
        if path[:depth] in values.texts and values.text(path[:depth]):
            for key in reversed(path[depth:]):
                value = f"[{value}]" if isinstance(key, int) else f"{{{key}: {value}}}"
            return Edit(path[:depth], value)
    new = next((path[:depth] for depth in range(1, len(path)) if not values.has(path[:depth])), path)
    return Edit(path, value, keys_before(Job, new))


def without(text: str, path: Path) -> str:
    """The text without the key, and without what would be left empty by that; a list item is never left empty."""
    values = values_of(text)
    while len(path) > 1 and len(values.below(path[:-1])) == 1 and not isinstance(path[-2], int):
        path = path[:-1]
    only = len(path) > 1 and isinstance(path[-2], int) and len(values.below(path[:-1])) == 1
    if only and not isinstance(path[-1], int):
        return edited(text, [Edit(path, NOTHING)])
    return edited(text, [Edit(path, None)])


def switched(text: str, group: Path, switch: Switch, answer: str, aside: dict[Path, str]) -> str:
    """The text with the switch thrown: keys of the other answers out, those of this one in.

    ``aside`` holds what earlier keys said, as it was written; what goes is added to it, what comes back is taken from
    it. Raises CannotEdit.
    """
    wanted = dict(switch.keys[answer])
    for keys in switch.keys.values():
        for key, _ in keys:
            path = (*group, *key)
            if key not in wanted and values_of(text).has(path):
                aside[path] = written(text, path) or NOTHING
                text = without(text, path)
    for key, new in wanted.items():
        path = (*group, *key)
        values = values_of(text)
        if not values.has(path):
            text = edited(text, [_at(values, path, aside.pop(path, new))])
    return text


def with_item(text: str, group: Group, path: Path, name: str = "") -> str:
    """The text with one more item in the list; ``name`` is written under its key ``name``. Raises CannotEdit."""
    count = values_of(text).count(path)
    new = [(key, scalar(name) if key == "name" else value) for key, value in group.new]
    return _with(text, (*path, count), new)


def _with(text: str, path: Path, new: list[tuple[str, str]]) -> str:
    """The new item on lines of its own where the list is written so, else in braces."""
    lines = "\n".join(f"{key}: {value}" for key, value in new)
    braces = "{" + ", ".join(f"{key}: {value}" for key, value in new) + "}"
    values = values_of(text)
    indented = "\n  - " + lines.replace("\n", "\n    ")
    ways = [Edit(path, lines)] if values.count(path[:-1]) else [_at(values, path[:-1], indented)]
    for way in (*ways, _at(values, path, braces)):
        try:
            return edited(text, [way])
        except CannotEdit:
            continue
    raise CannotEdit(path)


def with_copy(text: str, path: Path, name: str = "") -> str:
    """The text with a copy of this list item at the end of its list, under a new name. Raises CannotEdit."""
    item = written(text, path) or ""
    start = text.index(item)
    column = start - (max(text.rfind("\n", 0, start), text.rfind("\r", 0, start)) + 1)
    first, *rest = item.splitlines()
    lines = [first, *(line[column:] if not line[:column].strip() else line.lstrip() for line in rest)]
    values = values_of(text)
    list_path, count = path[:-1], values.count(path[:-1])
    copied = edited(text, [Edit((*list_path, count), "\n".join(lines))])
    bands = (("bands", number) for number in range(values.count((*path, "bands"))))
    for below in ((), ("lining",), ("interlining",), ("tie_backs",), *bands):
        if values.has((*path, *below, "places")):
            # Where its cuts shall lie is taken by those of the first.
            copied = without(copied, (*list_path, count, *below, "places"))
    return with_value(copied, (*list_path, count, "name"), name, needed=True) if name else copied


def other_name(values: Values, name: str) -> str:
    """A name for one more window that no other window has: a number at its end counts on."""
    name = re.sub(r"(?<=\S) \d{1,3}$", "", name)
    taken = {one.casefold() for one in values.names_of_windows()}
    number = 2
    while f"{name} {number}".casefold() in taken:
        number += 1
    return f"{name} {number}"
