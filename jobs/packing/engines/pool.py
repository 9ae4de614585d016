"""The bundles still to be laid, in arrays: found by where their shapes start in the repeat, and by length.

What bare cloth costs: the lines at a phase that the cuts cover most of are the ones that run short (``many.bound``):
cloth left bare there is dear, elsewhere it is cheap, because some must lie bare there anyhow. The price of a phase
falls with how many fewer lines the cuts cover there than at the dearest; all prices around the repeat average one.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from jobs.packing.instance import Instance

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

CLASSES = 6
POOL = 1500
"""Entries that are looked at for one roll."""
SOFTNESS = 0.5
MOST_PRICES = 1 << 16
"""Units of a repeat up to which the price of each is looked up."""
AGAIN = 0.95
"""Share of the bundles left at which what is left is priced anew."""


class Pool:
    """Bundles by kind (equal bundles are one kind), and their shapes in order of where they start in the repeat.

    An entry is a shape of a kind, by its number in ``kind``, ``shape``, ``lengths``, ``phases``, ``worth`` (the bare
    cloth that laying it saves, at its price), ``mates`` (the entries of the rest of its bundle, -1 for none). ``left``
    counts the bundles of each kind that are still to be laid, ``free`` names them.
    """

    def __init__(self, instance: Instance) -> None:
        self.instance = instance
        self.repeat = instance.rolls[0].repeat
        self.kinds = [kind.shapes for kind in instance.kinds]
        self.free = [list(bundles) for bundles in instance.kinds.values()]
        self.left: Ints = np.array([len(bundles) for bundles in self.free], np.int64)
        shapes = instance.shapes
        pairs = {(kind, shape) for kind, bundle in enumerate(self.kinds) for shape in bundle}
        self.entries = sorted(pairs, key=lambda e: (shapes[e[1]].phase, -shapes[e[1]].length, e))
        self.kind: Ints = np.array([kind for kind, _ in self.entries], np.int64)
        self.shape: Ints = np.array([shape for _, shape in self.entries], np.int64)
        self.lengths: Ints = np.array([shapes[shape].length for _, shape in self.entries], np.int64)
        self.phases: Ints = np.array([shapes[shape].phase for _, shape in self.entries], np.int64)
        self.mates = self._mates()
        self.others: Ints = np.array([len(kind) - 1 for kind in self.kinds], np.int64)
        self.kind_lengths: Ints = np.array([sum(shapes[s].length for s in kind) for kind in self.kinds], np.int64)
        copies = [self.kinds[kind].count(shape) for kind, shape in self.entries]
        self._copies: Ints = np.array(copies, np.int64)
        self._kinds = list(instance.kinds)
        self._bound = [number for number, kind in enumerate(self._kinds) if kind.allowed is not None]
        self._priced_at = self._turn = 0
        self._table: Floats | None = None

    def _mates(self) -> Ints:
        numbers = {entry: number for number, entry in enumerate(self.entries)}
        found = np.full((len(self.entries), max(len(kind) for kind in self.kinds) - 1), -1, np.int64)
        for number, (kind, shape) in enumerate(self.entries):
            rest = list(self.kinds[kind])
            rest.remove(shape)
            found[number, : len(rest)] = [numbers[kind, other] for other in rest]
        return found

    def offer(self, lot: int) -> bool:
        """Sort what a lot may get, or a fair part of much, into classes of lengths; False when that is nothing.

        It is priced anew when much has gone.
        """
        count = int(self.left.sum())
        free = self.left > 0
        for number in self._bound:
            free[number] &= self._kinds[number].may_go(lot)
        live = np.flatnonzero(free[self.kind])
        if not len(live):
            return False
        if count < AGAIN * self._priced_at or not self._priced_at:
            self._price(live)
            self._priced_at = count
        step = -(-len(live) // POOL)
        self._turn += 1
        self.live = live[self._turn % step :: step]
        lengths = self.lengths[self.live]
        self.longest, self.shortest = int(lengths.max()), int(self.lengths[live].min())
        by_length = self.live[np.argsort(lengths, kind="stable")]
        parts = [np.sort(part) for part in np.array_split(by_length, min(CLASSES, len(by_length)))]
        self._sort(parts)
        return True

    def _sort(self, parts: Sequence[Ints]) -> None:
        """The classes one behind the other, each a turn of the repeat further, so that one search looks in all."""
        self._ids: Ints = np.concatenate(parts)
        self._sizes: Ints = np.array([len(part) for part in parts], np.int64)
        self._firsts: Ints = np.cumsum(self._sizes) - self._sizes
        self._turns: Ints = np.arange(len(parts), dtype=np.int64) * (self.repeat or 1)
        self._starts: Ints = self.phases[self._ids] + np.repeat(self._turns, self._sizes)
        begins = np.flatnonzero(np.diff(self._starts, prepend=-1))
        self._crowd = int(np.diff(begins, append=len(self._starts)).max())

    def near(self, phases: Ints, most: int, turn: int) -> Ints:
        """For each phase (n,) of each class of lengths the first entries that start at or after it.

        Of more equal ones than ``most``, others come up at every ``turn``.
        """
        sizes, firsts = self._sizes[None, :, None], self._firsts[None, :, None]
        place = np.searchsorted(self._starts, phases[:, None] + self._turns) - self._firsts
        first = place % self._sizes
        steps = np.arange(most)[None, None, :]
        there = steps < sizes
        if self._crowd > most:
            equal = np.searchsorted(self._starts, self._starts[self._firsts + first], side="right")
            equal = (equal - self._firsts - first)[:, :, None]
            steps = np.where(equal > most, (turn * most + steps) % equal, steps)
        found: Ints = np.where(there, self._ids[firsts + (first[:, :, None] + steps) % sizes], -1)
        return found.reshape(len(phases), -1)

    def priced(self, places: Ints, first_row: int) -> Floats:
        """The price of all cloth up to places on a roll; only differences on one roll mean something."""
        if not self.repeat:
            return places.astype(float)
        rounds, phases = np.divmod(places - first_row, self.repeat)
        sums = self._table[phases] if self._table is not None else np.interp(phases, self._points, self._sums)
        return rounds * float(self.repeat) + sums

    def _price(self, live: Ints) -> None:
        if not self.repeat:
            self.worth: Floats = self.lengths.astype(float)
            return
        repeat, counts = self.repeat, self.left[self.kind[live]] * self._copies[live]
        starts, more = self.phases[live], self.lengths[live] % self.repeat
        ends = (starts + more) % repeat
        points = np.unique(np.concatenate([[0], starts, ends]))
        steps = np.zeros(len(points))
        np.add.at(steps, np.searchsorted(points, starts), counts * (more > 0))
        np.add.at(steps, np.searchsorted(points, ends), -counts * (more > 0))
        steps[0] += counts[(more > 0) & (ends < starts)].sum()
        covered = np.cumsum(steps)
        soft = 1.0 + SOFTNESS * math.sqrt(counts.sum())
        price = np.maximum(1e-6, np.exp((covered - covered.max()) / soft))
        sums = np.concatenate([[0.0], np.cumsum(price * np.diff(np.append(points, repeat)))])
        self._points, self._sums = np.append(points, repeat).astype(float), sums * (repeat / sums[-1])
        if repeat <= MOST_PRICES:
            self._table = np.interp(np.arange(repeat), self._points, self._sums)
        self.worth = self.priced(self.phases + self.lengths, 0) - self.priced(self.phases, 0)

    def take(self, ways: Mapping[int, Sequence[int]], orders: list[list[int]]) -> None:
        """Give the entries laid on each roll the items of real bundles; a bundle not laid whole is left out whole."""
        shapes, bundles = self.instance.item_shapes, self.instance.item_bundles
        begun: dict[int, list[list[int]]] = {}
        placed: list[tuple[int, int]] = []
        for roll, way in ways.items():
            for kind, shape in (self.entries[entry] for entry in way):
                rests = begun.setdefault(kind, [])
                rest = next((rest for rest in rests if any(shapes[item] == shape for item in rest)), None)
                if rest is None:
                    rest = list(self.instance.bundle_items[self.free[kind].pop(0)])
                    rests.append(rest)
                item = next(item for item in rest if shapes[item] == shape)
                rest.remove(item)
                placed.append((roll, item))
        broken = {bundles[rest[0]]: kind for kind, rests in begun.items() for rest in rests if rest}
        for roll, item in placed:
            if bundles[item] not in broken:
                orders[roll].append(item)
        for bundle, kind in sorted(broken.items()):
            self.free[kind].insert(0, bundle)
        self.left[:] = [len(bundles) for bundles in self.free]
