"""The bundles still to be laid, in arrays: found by where their shapes start in the repeat, and by length.

What bare cloth costs: the lines at a residue that the cuts cover most of are the ones that run short (``many.bound``):
cloth left bare there is dear, elsewhere it is cheap, because some must lie bare there anyhow. The price of a residue
falls with how many fewer lines the cuts cover there than at the dearest; all prices around the repeat average one.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from jobs.layout.many.dealing import deal
from jobs.layout.many.house import House

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

CLASSES = 6
POOL = 1500
"""Entries that are looked at for one strip."""
SOFTNESS = 0.5
AGAIN = 0.95
"""Share of the bundles left at which what is left is priced anew."""


class Shelf:
    """Bundles by kind (equal bundles are one kind), and their shapes in order of where they start in the repeat.

    An entry is a shape of a kind, by its number in ``kind``, ``shape``, ``lengths``, ``residues``, ``worth`` (the bare
    cloth that laying it saves, at its price), ``mates`` (the entries of the rest of its bundle, -1 for none). ``left``
    counts the bundles of each kind that are still to be laid, ``free`` names them.
    """

    def __init__(self, house: House) -> None:
        self.house = house
        self.repeat = house.strips[0].repeat
        free: dict[tuple[int, ...], list[int]] = {}
        for number, bundle in enumerate(house.bundles):
            free.setdefault(bundle, []).append(number)
        self.kinds, self.free = list(free), list(free.values())
        self.left: Ints = np.array([len(bundles) for bundles in self.free], np.int64)
        shapes = house.shapes
        pairs = {(kind, shape) for kind, bundle in enumerate(self.kinds) for shape in bundle}
        self.entries = sorted(pairs, key=lambda e: (shapes[e[1]].residue, -shapes[e[1]].length, e))
        self.kind: Ints = np.array([kind for kind, _ in self.entries], np.int64)
        self.shape: Ints = np.array([shape for _, shape in self.entries], np.int64)
        self.lengths: Ints = np.array([shapes[shape].length for _, shape in self.entries], np.int64)
        self.residues: Ints = np.array([shapes[shape].residue for _, shape in self.entries], np.int64)
        self.mates = self._mates()
        self.others: Ints = np.array([len(kind) - 1 for kind in self.kinds], np.int64)
        self.kind_lengths: Ints = np.array([sum(shapes[s].length for s in kind) for kind in self.kinds], np.int64)
        copies = [self.kinds[kind].count(shape) for kind, shape in self.entries]
        self._copies: Ints = np.array(copies, np.int64)
        self._priced_at = self._turn = 0
        self.refresh()

    def _mates(self) -> Ints:
        numbers = {entry: number for number, entry in enumerate(self.entries)}
        found = np.full((len(self.entries), max(len(kind) for kind in self.kinds) - 1), -1, np.int64)
        for number, (kind, shape) in enumerate(self.entries):
            rest = list(self.kinds[kind])
            rest.remove(shape)
            found[number, : len(rest)] = [numbers[kind, other] for other in rest]
        return found

    def refresh(self) -> None:
        """Sort what is left, or a fair part of much, into classes of lengths; price it anew when much has gone."""
        count = int(self.left.sum())
        if not count:
            return
        live = np.flatnonzero(self.left[self.kind] > 0)
        if count < AGAIN * self._priced_at or not self._priced_at:
            self._price(live)
            self._priced_at = count
        step = -(-len(live) // POOL)
        self._turn += 1
        self.live = live[self._turn % step :: step]
        lengths = self.lengths[self.live]
        self.longest, self.shortest = int(lengths.max()), int(self.lengths[live].min())
        by_length = self.live[np.argsort(lengths, kind="stable")]
        parts = np.array_split(by_length, min(CLASSES, len(by_length)))
        self._classes = [(self.residues[ids], ids) for ids in (np.sort(part) for part in parts)]

    def near(self, residues: Ints, most: int, turn: int) -> Ints:
        """For each residue (n,) of each class of lengths the first entries that start at or after it.

        Of more equal ones than ``most``, others come up at every ``turn``.
        """
        found = []
        for starts, ids in self._classes:
            count = min(most, len(ids))
            first = np.searchsorted(starts, residues) % len(ids)
            equal = np.searchsorted(starts, starts[first], side="right") - first
            steps = np.arange(count)[None, :]
            turned = np.where(equal[:, None] > most, (turn * most + steps) % equal[:, None], steps)
            found.append(ids[(first[:, None] + turned) % len(ids)])
        return np.concatenate(found, axis=1)

    def priced(self, places: Ints, first_row: int) -> Floats:
        """The price of all cloth up to places on a strip; only differences on one strip mean something."""
        if not self.repeat:
            return places.astype(float)
        rounds, residues = np.divmod(places - first_row, self.repeat)
        return rounds * float(self.repeat) + np.interp(residues, self._points, self._sums)

    def _price(self, live: Ints) -> None:
        if not self.repeat:
            self.worth: Floats = self.lengths.astype(float)
            return
        repeat, counts = self.repeat, self.left[self.kind[live]] * self._copies[live]
        starts, more = self.residues[live], self.lengths[live] % self.repeat
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
        self.worth = self.priced(self.residues + self.lengths, 0) - self.priced(self.residues, 0)

    def take(self, ways: list[tuple[int, list[int]]], orders: list[list[int]]) -> None:
        """Give the entries laid on each strip the items of real bundles; a bundle not laid whole is left out whole."""
        deal(self.house, self.free, ((strip, *self.entries[entry]) for strip, way in ways for entry in way), orders)
        self.left[:] = [len(bundles) for bundles in self.free]
