"""Long lists on a page: one item at a time is shown, chosen from a list of all."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.model.problems import Path
from projector.page.form.complaints import Complaints
from projector.page.form.field import Group
from projector.page.form.pages import Adding, Block
from projector.page.form.values import Values

MOST_AT_ONCE = 3
"""So many windows, pieces or flaws are shown one below the other; a longer page is hard to find one's way on."""

WRONG = "\u2716 "


@dataclass(frozen=True)
class Choosing:
    """A list to choose an item of, numbers from 0."""

    group: Group
    path: Path
    count: int
    chosen: int
    depth: int = 0

    def labels(self, values: Values, complaints: Complaints) -> list[str]:
        """What the list says of each item; a sign before those in which something is to be mended."""
        wrong = {path[: len(self.path) + 1] for path in complaints.beside}
        return [
            f"{WRONG if (*self.path, number) in wrong else ''}{number + 1}  {self._said(values, number)}"
            for number in range(self.count)
        ]

    def _said(self, values: Values, number: int) -> str:
        keys = {"piece": ("length",), "flaw": ("from", "to")}.get(self.group.thing, ("name",))
        said = " to ".join(values.text((*self.path, number, key)) for key in keys)
        return said.strip() or f"{self.group.thing} without {'a name' if keys == ('name',) else 'a length'}"


Part = Block | Adding | Choosing


def one_at_a_time(parts: list[Block | Adding], values: Values, chosen: dict[Path, int]) -> list[Part]:
    """The parts of a page; of long lists only the item that is ``chosen`` (by the list's path), the first otherwise."""
    found: list[Part] = []
    listed: set[Path] = set()
    for part in parts:
        lists = [at for at in _lists(part.path, values) if values.count(at) > MOST_AT_ONCE]
        if any(part.path[len(at)] != number_in(at, values, chosen) for at in lists):
            continue
        if isinstance(part, Block) and part.number is not None and part.path[:-1] in lists:
            at = part.path[:-1]
            if at not in listed:
                listed.add(at)
                count, number = values.count(at), number_in(at, values, chosen)
                found.append(Choosing(part.group, at, count, number, part.depth))
        found.append(part)
    return found


def number_in(path: Path, values: Values, chosen: dict[Path, int]) -> int:
    """Which item of the list is shown."""
    return max(0, min(chosen.get(path, 0), values.count(path) - 1))


def _lists(path: Path, values: Values) -> list[Path]:
    """The lists that this path goes through, an item of each named by it."""
    return [
        path[:depth] for depth in range(1, len(path)) if isinstance(path[depth], int) and values.count(path[:depth])
    ]
