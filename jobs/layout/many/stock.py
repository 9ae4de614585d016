"""The bundles that are still to be laid, found by where their shapes start in the repeat and by length."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator

from jobs.layout.many.dealing import deal
from jobs.layout.many.house import House
from jobs.layout.many.prices import worths

CLASSES = 6
FITTING = 3


class Stock:
    """Bundles by kind (equal bundles are one kind), and their shapes in order of where they start in the repeat.

    An entry is (kind, shape); ``worth`` is what laying each shape is worth at the prices of what is left.
    """

    def __init__(self, house: House) -> None:
        self.house = house
        free: dict[tuple[int, ...], list[int]] = {}
        for number, bundle in enumerate(house.bundles):
            free.setdefault(bundle, []).append(number)
        self.kinds = list(free)
        self.free = list(free.values())
        self.lengths = [sum(house.shapes[shape].length for shape in kind) for kind in self.kinds]
        self.others = {
            (kind, shape): tuple((kind, other) for other in _without(bundle, shape))
            for kind, bundle in enumerate(self.kinds)
            for shape in bundle
        }
        self._priced_at = 0
        self.refresh()

    def refresh(self) -> None:
        """Sort what is left into classes of lengths, and price it anew when much has gone."""
        shapes = self.house.shapes
        self.left = [kind for kind, free in enumerate(self.free) if free]
        if len(self.left) < 0.95 * self._priced_at or not self._priced_at:
            self._price()
        entries = sorted({(shapes[shape].length, kind, shape) for kind in self.left for shape in self.kinds[kind]})
        self.by_length = entries
        self.longest = entries[-1][0] if entries else 0
        count = min(CLASSES, len({length for length, _, _ in entries}))
        self._classes = []
        for number in range(count):
            part = entries[number * len(entries) // count : (number + 1) * len(entries) // count]
            placed = sorted((shapes[shape].residue, -length, kind, shape) for length, kind, shape in part)
            self._classes.append(([entry[0] for entry in placed], [(entry[2], entry[3]) for entry in placed]))

    def _price(self) -> None:
        counts: Counter[int] = Counter()
        for kind in self.left:
            for shape in self.kinds[kind]:
                counts[shape] += len(self.free[kind])
        self.worth = worths(self.house, counts)
        self._priced_at = len(self.left)

    def near(self, residue: int, most: int) -> list[tuple[int, int]]:
        """Of each class of lengths the first entries that start at or after a residue."""
        found: list[tuple[int, int]] = []
        for residues, entries in self._classes:
            at = bisect_left(residues, residue)
            found += entries[at : at + most]
            missing = at + most - len(entries)
            if missing > 0:
                found += entries[: min(missing, at)]
        return found

    def fitting(self, room: int) -> list[tuple[int, int]]:
        """Some of the longest entries that are no longer than the room."""
        at = bisect_left(self.by_length, (room + 1, -1, -1))
        return [(kind, shape) for _, kind, shape in self.by_length[max(0, at - FITTING) : at]]

    def take(self, ways: list[tuple[int, list[tuple[int, int]]]], orders: list[list[int]]) -> None:
        """Give the entries laid on each strip the items of real bundles; a bundle not laid whole is left out whole."""
        deal(self.house, self.free, ((strip, *entry) for strip, way in ways for entry in way), orders)


def _without(bundle: tuple[int, ...], shape: int) -> Iterator[int]:
    gone = False
    for other in bundle:
        if other == shape and not gone:
            gone = True
        else:
            yield other
