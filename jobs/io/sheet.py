"""A file as it was read: which keys stand in it, which of them were refused, and where each stands."""

from __future__ import annotations

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
