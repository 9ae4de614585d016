"""What a job file says, key by key, as it was typed: the form shows it and asks which fields there are."""

from __future__ import annotations

from dataclasses import field
from functools import lru_cache

from jobs.io.log import Log
from jobs.io.nodes import Mapping, Node, Scalar, Sequence, parse
from jobs.model.choices import Unit
from jobs.model.problems import Path
from jobs.model.records import dataclass


@dataclass(frozen=True)
class Values:
    """Texts of single values by path (keys of mappings, numbers of list items from 0), and how long each list is."""

    texts: dict[Path, str] = field(default_factory=dict)
    counts: dict[Path, int] = field(default_factory=dict)
    inner: frozenset[Path] = frozenset()
    """Paths of mappings and lists."""

    def has(self, path: Path) -> bool:
        """Whether the key stands in the file, whatever its value."""
        return path in self.texts or path in self.inner

    def text(self, path: Path, left_out: str = "") -> str:
        """The single value at the path as typed, ``left_out`` where there is none."""
        return self.texts.get(path, left_out)

    def told(self, path: Path) -> str:
        """The single value at the path as typed; of a list of such values all of them, a comma between two."""
        items = [self.text((*path, number)) for number in range(self.count(path))]
        return ", ".join(items) if items else self.text(path)

    def count(self, path: Path) -> int:
        """How many items the list has; 0 where there is no list."""
        return self.counts.get(path, 0)

    def below(self, path: Path) -> list[Path]:
        """Paths of the keys and items directly below this one, in the order of the file."""
        deeper = len(path) + 1
        return [one for one in (*self.texts, *self.inner) if len(one) == deeper and one[:-1] == path]

    @property
    def unit(self) -> Unit:
        """The unit of bare numbers; inches where the file names none that is known."""
        said = self.text(("units",)).strip()
        return Unit(said) if said in [unit.value for unit in Unit] else Unit.INCH

    @property
    def first_cloth(self) -> Path:
        """Where the first cloth stands: by itself, or at the head of the list of all."""
        return ("cloths", 0) if self.count(("cloths",)) and not self.has(("cloth",)) else ("cloth",)

    @property
    def cloths(self) -> tuple[Path, ...]:
        """Where every cloth stands, the first one first."""
        listed: list[Path] = [("cloths", number) for number in range(self.count(("cloths",)))]
        return tuple(dict.fromkeys([self.first_cloth, *listed]))

    def cloth_of(self, group: Path) -> Path:
        """Where the cloth stands that a group of fields is about: its own, that a window is cut from, or the first."""
        if group[:1] == ("cloths",) and len(group) > 1:
            return group[:2]
        if group[:1] in (("windows",), ("flat_panels",), ("wanted",)) and len(group) > 1:
            name = self.text((*group[:2], "cloth")).strip().casefold()
            named = (one for one in self.cloths if name and self.text((*one, "name")).strip().casefold() == name)
            return next(named, self.first_cloth)
        return self.first_cloth

    def is_patterned(self, group: Path) -> bool:
        """Whether the cloth that a group of fields is about has a repeat."""
        return self.has((*self.cloth_of(group), "repeat"))

    @property
    def patterned(self) -> bool:
        """Whether the first cloth has a repeat."""
        return self.is_patterned(())

    def names_of_cloths(self) -> list[str]:
        """The names of all cloths, empty ones left out."""
        names = [self.text((*one, "name")).strip() for one in self.cloths]
        return [name for name in names if name]

    def names_of_windows(self) -> list[str]:
        """The names of all windows, empty ones left out."""
        names = [self.text(("windows", number, "name")) for number in range(self.count(("windows",)))]
        return [name for name in names if name.strip()]


@lru_cache(maxsize=16)
def values_of(text: str, file: str = "job") -> Values:
    """The values of a job file's text. Raises Problems where it is no YAML, or refers, tags or nests too deep.

    At each key the same few texts are asked for several times: they are kept.
    """
    log = Log(file)
    root = parse(text, log)
    log.raise_if_any()
    texts: dict[Path, str] = {}
    counts: dict[Path, int] = {}
    inner: set[Path] = set()
    waiting: list[tuple[Path, Node]] = [((), root)]
    while waiting:
        path, node = waiting.pop()
        if isinstance(node, Scalar):
            texts.setdefault(path, node.text)
            continue
        inner.add(path)
        if isinstance(node, Mapping):
            waiting += [((*path, key.text), value) for key, value in reversed(node.entries)]
        elif isinstance(node, Sequence):
            counts.setdefault(path, len(node.items))
            waiting += [((*path, number), item) for number, item in reversed(list(enumerate(node.items)))]
    return Values(texts, counts, frozenset(inner))
