"""Single values of a job file changed in its text, every other character of it left as it is.

A person's remarks, order of keys, layout and line ends stay. The places of the values are those of the YAML nodes.
After each change the text is read again, and a change that did more or less than was asked is refused.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import deepcopy
from typing import Any

import yaml

from jobs.io.adding import added
from jobs.io.log import FileRefused
from jobs.io.node_places import Node, child, composed, end_of, line_end, plain, start_of
from jobs.io.removing import removed
from jobs.model.problems import Path
from jobs.model.records import dataclass


class CannotEdit(Exception):  # noqa: N818 - says what happened
    """The text is laid out in a way that cannot be changed piecemeal; ``path`` names the key."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{', '.join(map(str, path))} cannot be changed in this layout; change it by hand")
        self.path = path


@dataclass(frozen=True)
class Edit:
    """A new value for the key at ``path``: keys of mappings, numbers of list items from 0.

    ``value`` is YAML text, such as ``11 1/4``, ``"#5a6672"`` or ``{along: 12, across: 9}``; of several lines it is
    indented to its place, and begins with a line break where it belongs under its key. None takes the entry out. What
    is not there yet is added (a list item by the number after the last), mappings on the way are made, and the first
    new key is put behind the first of the keys ``after`` that stands beside it, else at the end.
    """

    path: Path
    value: str | None
    after: tuple[str, ...] = ()


def edited(text: str, edits: Iterable[Edit], file: str = "job") -> str:
    """The text with the edits made, one after the other. Raises FileRefused for text that is no YAML, CannotEdit."""
    for edit in edits:
        root = composed(text, file)
        try:
            changed = _changed(text, root, edit)
            sound = plain(composed(changed, file)) == _wanted(root, edit)
        except (FileRefused, LookupError, yaml.YAMLError, ValueError, TypeError):
            sound = False
        if not sound:
            raise CannotEdit(edit.path)
        text = changed
    return text


def written(text: str, path: Path, file: str = "job") -> str | None:
    """The value at ``path`` as it is written, None where the key is not there. Raises FileRefused for no YAML."""
    node: Node | None = composed(text, file)
    for key in path:
        node = child(node, key) if node is not None else None
    return text[start_of(node) : end_of(node)] if node is not None else None


def _changed(text: str, root: Node, edit: Edit) -> str:
    parents = [root]
    for key in edit.path[:-1]:
        inner = child(parents[-1], key)
        if inner is None or _nothing(inner):
            break
        parents.append(inner)
    parent = parents[-1]
    depth = len(parents) - 1
    key = edit.path[depth]
    value = child(parent, key) if depth == len(edit.path) - 1 else None
    if edit.value is None:
        if value is None:
            return text
        sole = len(parent.value) == 1 and depth > 0
        if sole:
            empty = "[]" if isinstance(parent, yaml.SequenceNode) else "{}"
            return _changed(text, root, Edit(edit.path[:-1], empty))
        return removed(text, parent, key)
    if value is not None:
        return _replaced(text, parent, value, edit)
    new = edit.value
    for name in reversed(edit.path[depth + 1 :]):
        new = f"[{new}]" if isinstance(name, int) else f"{{{name}: {new}}}"
    there = child(parent, key)
    if there is not None:
        return _replaced(text, parent, there, Edit(edit.path[: depth + 1], new))
    return added(text, parent, key, new, edit.after)


def _replaced(text: str, parent: Node, value: Node, edit: Edit) -> str:
    assert edit.value is not None
    start, end = start_of(value), end_of(value)
    if isinstance(value, yaml.ScalarNode) and value.style in ("|", ">"):
        end = line_end(text, end)
    if isinstance(parent, yaml.MappingNode):
        key = next(name for name, held in parent.value if held is value)
        block = isinstance(value, yaml.CollectionNode) and not value.flow_style
        colon = text.find(":", end_of(key), max(start, end_of(key) + 1))
        if block and colon >= 0:
            rest = text[colon + 1 : line_end(text, colon)].rstrip()
            if start > line_end(text, colon):
                return f"{text[: colon + 1]} {edit.value}{rest}{text[line_end(text, end) :]}"
        if start == end:
            at = colon + 1 if colon >= 0 else end_of(key)
            return f"{text[:at]}{'' if colon >= 0 else ':'} {edit.value}{text[at:]}"
    elif start == end:
        return f"{text[:start]} {edit.value}{text[start:]}"
    return f"{text[:start]}{edit.value}{text[end:]}"


def _nothing(node: Node) -> bool:
    return isinstance(node, yaml.ScalarNode) and not node.style and node.value == ""


def _wanted(root: Node, edit: Edit) -> Any:
    """What the changed text must say: the old one with the one value changed, entries in any order of mappings kept."""
    tree = deepcopy(plain(root))
    _put(tree, edit.path, None if edit.value is None else plain(composed(edit.value.lstrip("\r\n"), "value")), edit)
    return tree


def _put(tree: Any, path: Path, new: Any, edit: Edit) -> None:
    key, rest = path[0], path[1:]
    if isinstance(tree, list):
        assert isinstance(key, int)
        if rest:
            _put(tree[key], rest, new, edit)
        elif new is None:
            del tree[key : key + 1]
        elif key == len(tree):
            tree.append(new)
        else:
            tree[key] = new
        return
    pairs = tree["pairs"]
    names = [name for (name, _), _ in pairs]
    if key not in names:
        if new is None:
            return
        at = next((names.index(one) + 1 for one in edit.after if one in names), len(names))
        pairs.insert(at, [(key, True), _nested(rest, new)])
        return
    pair = pairs[names.index(key)]
    if rest and pair[1] == ("", True):
        pair[1] = _nested(rest, new)
    elif rest:
        _put(pair[1], rest, new, edit)
    elif new is None:
        pairs.remove(pair)
    else:
        pair[1] = new


def _nested(path: Path, new: Any) -> Any:
    for key in reversed(path):
        new = [new] if isinstance(key, int) else {"pairs": [[(key, True), new]]}
    return new
