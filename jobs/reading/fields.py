"""The keys of one mapping, taken one by one; whatever nobody took is an unknown key."""

from __future__ import annotations

import difflib
from typing import TypeVar

from jobs.job import Place
from jobs.numbers import quoted
from jobs.reading.nodes import Mapping, Node, Scalar, Unusable
from jobs.reading.problems import Log, Refused
from jobs.reading.values import Reader

T = TypeVar("T")


class Fields:
    """Reads a mapping: ``need`` and ``take`` name the keys there are, ``close`` reports the rest.

    A key that is refused gives its stand-in, so that the reading goes on and finds every problem; the stand-in never
    gets out, because the log is raised at the end. Ask ``sound`` before comparing two values.
    """

    def __init__(self, node: Node, where: str, log: Log) -> None:
        if isinstance(node, Unusable):
            raise Refused
        if not isinstance(node, Mapping):
            raise log.refuse(node.place, where or "file", "keys with values belong here", "write them as key: value")
        self.place = node.place
        self._where = where
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
            what = f"this key stands here a second time (first in line {first})"
            self._log.refuse(key.place, self.where(key.text), what, "keep one of the two")
            self._unsound.add(key.text)
        else:
            self._nodes[key.text] = key, value

    def where(self, key: str) -> str:
        """The name of a key as problems show it: ``cloth, repeat, along``."""
        shown = key if key.isidentifier() and len(key) <= 40 else quoted(key)
        return f"{self._where}, {shown}" if self._where else shown

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
            return read(self._nodes[key][1], self.where(key), self._log)
        except Refused:
            self._unsound.add(key)
            return stand_in

    def need(self, key: str, read: Reader[T], stand_in: T) -> T:
        """The value of a key that must be there."""
        if key not in self._nodes:
            self._missing.append(key)
            self._unsound.add(key)
        return self.take(key, read, stand_in)

    def refuse(self, key: str, what: str, advice: str) -> None:
        """Note a problem of a key that was read, for instance that it contradicts another."""
        self._log.refuse(self.place_of(key), self.where(key), what, advice)
        self._unsound.add(key)

    def whole(self, value: T) -> T:
        """``value``, unless some key of this mapping was refused: then what was made of it is of no use either."""
        if self._unsound:
            raise Refused
        return value

    def close(self) -> None:
        """Note unknown and missing keys; a missing key that is only misspelt is noted once."""
        meant = set()
        for name, (key, value) in self._nodes.items():
            if name not in self._known:
                near = difflib.get_close_matches(name.casefold(), self._known, 1)
                meant.update(near)
                self._log.refuse(key.place, self.where(name), "this key is not known", self._advice(name, value, near))
        for name in self._missing:
            if name not in meant:
                self._log.refuse(self.place, self.where(name), "this key is missing", f"add {name}: and its value")

    def _advice(self, name: str, value: Node, near: list[str]) -> str:
        if near:
            return f"write {near[0]} if that is meant"
        if name[:1].isdigit() and isinstance(value, Scalar) and not value.text:
            return "write decimals with a point, such as 28.6"
        free = [key for key in self._known if key not in self._nodes]
        return f"leave it out ({'known here: ' + ', '.join(free) if free else 'nothing else belongs here'})"
