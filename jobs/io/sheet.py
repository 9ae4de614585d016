"""A file as it was read: which keys stand in it, which of them were refused, and where each stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from jobs.io.log import Log
from jobs.io.nodes import Node, place_of
from jobs.model.problems import Code, Path, Problem, Value, problem


class Sheet:
    """What the rules between keys ask of the file they judge."""

    def __init__(self, root: Node, log: Log) -> None:
        self.root = root
        self.log = log
        self.given: set[Path] = set()
        self.unsound: set[Path] = set()
        self.mirror_follows = False

    def has(self, *path: str | int) -> bool:
        """Whether the key stands in the file."""
        return path in self.given

    def sound(self, *paths: Path) -> bool:
        """Whether nothing was refused at, above or below any of these paths."""
        return not any(one == path[: len(one)] or path == one[: len(path)] for one in self.unsound for path in paths)

    def line_of(self, path: Path) -> int:
        """The line the value at ``path`` stands in."""
        return place_of(self.root, path).line

    def refuse(self, path: Path, code: Code, /, **values: Value) -> None:
        """Note a problem of values that were read: it stands where the path leads."""
        self.log.note(place_of(self.root, path), problem(path, code, **values))
        self.unsound.add(path)

    def note(self, found: Problem) -> None:
        """As ``refuse``, for a problem that is made already."""
        self.log.note(place_of(self.root, found.path), found)
        self.unsound.add(found.path)


class SheetOfCloth(Sheet):
    """The same file as the rules of a job of one cloth see it: ``in_file`` tells where its keys stand in the file."""

    def __init__(self, whole: Sheet, in_file: Callable[[Path], Path]) -> None:
        super().__init__(whole.root, whole.log)
        self._whole = whole
        self._in_file = in_file

    def has(self, *path: str | int) -> bool:
        return self._whole.has(*self._in_file(path))

    def sound(self, *paths: Path) -> bool:
        return self._whole.sound(*map(self._in_file, paths))

    def line_of(self, path: Path) -> int:
        return self._whole.line_of(self._in_file(path))

    def refuse(self, path: Path, code: Code, /, **values: Value) -> None:
        self._whole.refuse(self._in_file(path), code, **values)

    def note(self, found: Problem) -> None:
        self._whole.note(replace(found, path=self._in_file(found.path)))
