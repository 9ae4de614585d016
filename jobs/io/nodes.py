"""YAML text as nodes that know their place, built from parser events within bounds of depth and number.

Values stay the text that was written: nothing turns ``1:30`` into 90 or ``no`` into False.
"""

from __future__ import annotations

from dataclasses import field
from typing import Any

import yaml

from jobs.io.log import START, FileRefused, Log, Place
from jobs.io.source import check_text, place_at
from jobs.model.problems import Code, Path, Value
from jobs.model.records import dataclass

DEEPEST = 20
MOST_NODES = 100_000

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True)
class Scalar:
    """A single value as written; ``plain`` when no quotes stand around it."""

    place: Place
    text: str
    plain: bool = True


@dataclass(frozen=True)
class Sequence:
    """A list."""

    place: Place
    items: list[Node] = field(default_factory=list)


@dataclass(frozen=True)
class Mapping:
    """Keys with values, in the order of the file, repeated keys included."""

    place: Place
    entries: list[tuple[Scalar, Node]] = field(default_factory=list)


@dataclass(frozen=True)
class Spoilt:
    """A value whose problem has been noted already."""

    place: Place


Node = Scalar | Sequence | Mapping | Spoilt


def parse(text: str, log: Log) -> Node:
    """The root node of the text; problems of single values go to ``log``, FileRefused is raised where YAML ends."""
    check_text(text, log.file)
    builder = _Builder(log)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            builder.take(event)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = _place(mark) if mark is not None else place_at(text, None)
        if "nesting" in str(error.problem):
            raise _end(log, place, Code.TOO_DEEP) from None
        raise _end(log, place, Code.LAYOUT_BROKEN, detail=error.problem) from None
    except (yaml.YAMLError, ValueError, OverflowError):
        raise _end(log, START, Code.NOT_YAML) from None
    if builder.root is None:
        raise _end(log, START, Code.EMPTY_FILE)
    return builder.root


class _Builder:
    """Puts events together without recursion, so that depth cannot exhaust the stack."""

    def __init__(self, log: Log) -> None:
        self.log = log
        self.root: Node | None = None
        self.open: list[Sequence | Mapping] = []
        self.keys: list[Scalar | None] = []
        self.count = 0
        self.documents = 0

    def take(self, event: yaml.Event) -> None:
        place = _place(event.start_mark)
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                raise _end(self.log, place, Code.SECOND_DOCUMENT)
        elif isinstance(event, yaml.NodeEvent):
            self._count(place)
            self._put(self._node(event, place))
        elif isinstance(event, yaml.CollectionEndEvent):
            self.open.pop()
            self.keys.pop()

    def _count(self, place: Place) -> None:
        self.count += 1
        if self.count > MOST_NODES:
            raise _end(self.log, place, Code.TOO_MANY_VALUES)

    def _node(self, event: yaml.NodeEvent, place: Place) -> Node:
        if isinstance(event, yaml.AliasEvent):
            self.log.refuse(place, (), Code.REFERENCE)
            return Spoilt(place)
        if event.anchor is not None:
            self.log.refuse(place, (), Code.ANCHOR)
        if getattr(event, "tag", None) is not None:
            self.log.refuse(place, (), Code.TAG)
        if isinstance(event, yaml.ScalarEvent):
            return Scalar(place, event.value, not event.style)
        if len(self.open) >= DEEPEST:
            raise _end(self.log, place, Code.TOO_DEEP)
        return Sequence(place) if isinstance(event, yaml.SequenceStartEvent) else Mapping(place)

    def _put(self, node: Node) -> None:
        inside = self.open[-1] if self.open else None
        if inside is None:
            self.root = node
        elif isinstance(inside, Sequence):
            inside.items.append(node)
        elif self.keys[-1] is None:
            self.keys[-1] = self._key(node)
        else:
            inside.entries.append((self.keys[-1], node))
            self.keys[-1] = None
        if isinstance(node, Sequence | Mapping):
            self.open.append(node)
            self.keys.append(None)

    def _key(self, node: Node) -> Scalar:
        if not isinstance(node, Scalar):
            raise _end(self.log, node.place, Code.KEY_NOT_SINGLE)
        return node


def _place(mark: Any) -> Place:
    return Place(mark.line + 1, mark.column + 1)


def _end(log: Log, place: Place, code: Code, **values: Value) -> FileRefused:
    log.refuse(place, (), code, **values)
    return log.all()


def place_of(root: Node, path: Path) -> Place:
    """Where the value at ``path`` stands; the place of the nearest mapping or list above it where there is none."""
    node = root
    for name in path:
        inner: Node | None = None
        if isinstance(node, Mapping):
            inner = next((value for key, value in node.entries if key.text == name), None)
        elif isinstance(node, Sequence) and isinstance(name, int) and name < len(node.items):
            inner = node.items[name]
        if inner is None:
            break
        node = inner
    return node.place
