"""The keys of one mapping, taken one by one; whatever nobody took is an unknown key."""

from __future__ import annotations

from enum import StrEnum
from typing import TypeVar

from jobs.io.log import Log, Place, Unusable
from jobs.io.nodes import Mapping, Node, Scalar, Spoilt
from jobs.io.values import Reader
from jobs.model.problems import Code, Path, Problem, Value, problem

T = TypeVar("T")


class Fields:
    """Reads a mapping: ``need`` and ``take`` name the keys there are, ``close`` reports the rest.

    A key that is refused gives its stand-in, so that the reading goes on and finds every problem; the stand-in never
    gets out, because the log is raised at the end. Ask ``sound`` before comparing two values.
    """

    def __init__(self, node: Node, path: Path, log: Log) -> None:
        if isinstance(node, Spoilt):
            raise Unusable
        if not isinstance(node, Mapping):
            raise log.refuse(node.place, path, Code.KEYS_BELONG_HERE)
        self.place = node.place
        self.path = path
        self._log = log
        self._nodes: dict[str, tuple[Scalar, Node]] = {}
        self._known: list[str] = []
        self._missing: list[str] = []
        self._unsound: set[str] = set()
        for key, value in node.entries:
            self._enter(key, value)

    def _enter(self, key: Scalar, value: Node) -> None:
        if key.text in self._nodes:
            first = self._nodes[key.text][0].place.line
            self._log.refuse(key.place, (*self.path, key.text), Code.REPEATED_KEY, first=first)
            self._unsound.add(key.text)
        else:
            self._nodes[key.text] = key, value

    def has(self, key: str) -> bool:
        """Whether the key stands in the file."""
        return key in self._nodes

    def sound(self, *keys: str) -> bool:
        """Whether none of these keys was refused or found missing."""
        return not self._unsound.intersection(keys)

    def place_of(self, key: str) -> Place:
        """Where the key's value stands; the mapping's own place when the key is left out."""
        return self._nodes[key][1].place if key in self._nodes else self.place

    def take(self, key: str, read: Reader[T], stand_in: T) -> T:
        """The value of a key that may be left out, or ``stand_in``."""
        self._known.append(key)
        if key not in self._nodes:
            return stand_in
        try:
            return read(self._nodes[key][1], (*self.path, key), self._log)
        except Unusable:
            self._unsound.add(key)
            return stand_in

    def need(self, key: str, read: Reader[T], stand_in: T) -> T:
        """The value of a key that must be there."""
        if key not in self._nodes:
            self._missing.append(key)
            self._unsound.add(key)
        return self.take(key, read, stand_in)

    def refuse(self, key: str, code: StrEnum, /, **values: Value) -> None:
        """Note a problem of a key that was read, for instance that it contradicts another."""
        self.note(key, problem((*self.path, key), code, **values))

    def note(self, key: str, found: Problem) -> None:
        """As ``refuse``, for a problem that is made already."""
        self._log.note(self.place_of(key), found)
        self._unsound.add(key)

    def whole(self, value: T) -> T:
        """``value``, unless some key of this mapping was refused: then what was made of it is of no use either."""
        if self._unsound:
            raise Unusable
        return value

    def close(self) -> None:
        """Note unknown and missing keys; a missing key that is only misspelt is noted once."""
        meant = set()
        for name, (key, value) in self._nodes.items():
            if name not in self._known:
                from difflib import get_close_matches  # for what is refused

                near = get_close_matches(name.casefold(), self._known, 1)
                meant.update(near)
                self._log.note(key.place, self._unknown((*self.path, name), value, near))
        for name in self._missing:
            if name not in meant:
                self._log.refuse(self.place, (*self.path, name), Code.MISSING_KEY)

    def _unknown(self, path: Path, value: Node, near: list[str]) -> Problem:
        if near:
            return problem(path, Code.MISSPELT_KEY, near=near[0])
        if str(path[-1])[:1].isdigit() and isinstance(value, Scalar) and not value.text:
            return problem(path, Code.DECIMALS_CUT_OFF)
        return problem(path, Code.UNKNOWN_KEY, known=tuple(key for key in self._known if key not in self._nodes))
