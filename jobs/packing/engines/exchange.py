"""Bundles that change places in a ring: each is laid where the next one lay, on another roll.

What a roll would cost with one of its bundles taken off and any other laid in its stead is worked out for all of them,
each cut of the other at the place in the order where it wastes least, the whole roll then laid anew. Rings that cost
less are looked for along the best exchanges (cyclic exchanges: R. K. Ahuja, J. B. Orlin and D. Sharma, *Very
large-scale neighborhood search*, International Transactions in Operational Research 7, 2000). Nothing is laid in the
stead of a bundle where it only goes away, and nothing is taken off where it only comes. Same instance, same answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from jobs.model.records import dataclass
from jobs.packing.bound import wasted
from jobs.packing.engines.pool import Ints
from jobs.packing.instance import Instance, Layout, layout_of

MOST_TRIED, MOST_AT_FIRST = 500_000, 300_000
"""Times that a roll is laid anew with one bundle in the stead of another, and those of them before the first ring."""
LONGEST = 5
"""The most rolls in a ring."""
BEST, KEPT = 40, 6_000
"""Exchanges that are followed from a bundle, and paths that are kept of each length."""
BITS = 62
"""Rolls that a path tells apart; of more some are taken for the same, so that a few rings are missed."""
FAR = 1 << 56
MOST_UNITS = 1 << 44


def exchanged_in_rings(instance: Instance, layout: Layout, beat: Callable[[], None] = lambda: None) -> Layout:
    """The layout, or one on its rolls that costs less; it must fit. ``beat`` is called often and may raise to stop.

    Of cloth with a repeat and cuts that lie selvedge to selvedge; others are given back as they are.
    """
    rolls, plain = instance.rolls, not instance.rolls[0].repeat
    if plain or any(shape.cores for shape in instance.shapes) or instance.opening * (len(rolls) + 1) > MOST_UNITS:
        return layout
    offers = _Offers(instance, layout)
    while offers.tried < MOST_TRIED:
        changed: set[int] = set()
        for ring in offers.rings():
            if changed.isdisjoint(place.roll for place in ring):
                changed |= offers.turn(ring)
        if not changed:
            break
        for roll in sorted(changed):
            beat()
            offers.look(roll)
    found = layout_of(instance, offers.orders)
    return found if found.cost < layout.cost else layout


@dataclass(frozen=True)
class Place:
    """A bundle that lies on a roll, of a kind; or nothing there (``bundle`` None)."""

    roll: int
    bundle: int | None
    kind: int


@dataclass(frozen=True)
class _Table:
    """Of one roll: its places (n,), what it costs more with each kind in the stead of each (n, kinds), and the shapes
    in order then (n, kinds, some), -1 for none."""

    places: list[Place]
    more: Ints
    shapes: Ints


class _Offers:
    """The orders as they stand, and a table for each roll that takes part."""

    def __init__(self, instance: Instance, layout: Layout) -> None:
        self.instance, self.orders = instance, [list(order) for order in layout.orders]
        self.lengths: Ints = np.array([shape.length for shape in instance.shapes], np.int64)
        self.phases: Ints = np.array([shape.phase for shape in instance.shapes], np.int64)
        self.repeat = instance.rolls[0].repeat
        self.tail: Ints = (self.phases + self.lengths) % self.repeat
        rolls = self._worst()
        there = dict.fromkeys(instance.bundle_kinds[bundle] for roll in rolls for bundle in self._alone_on(roll))
        self.kind_numbers = {kind: number for number, kind in enumerate(there)}
        wide = max((len(kind.shapes) for kind in there), default=1)
        self.kinds: Ints = np.full((len(there) + 1, wide), -1, np.int64)
        for number, kind in enumerate(there):
            self.kinds[number, : len(kind.shapes)] = kind.shapes
        lengths = np.where(self.kinds >= 0, self.lengths[self.kinds], 0)
        self.kind_lengths: Ints = lengths.sum(axis=1)
        self.tables: dict[int, _Table] = {}
        self.tried = 0
        for roll in rolls:
            self.look(roll)

    def _worst(self) -> list[int]:
        """The rolls on which most is wasted, so many that each may be tried with what lies on each."""
        waste, places, found = wasted(self.instance, self.orders), 0, []
        for roll in sorted(waste, key=lambda roll: (-waste[roll], roll)):
            places += 1 + sum(1 for _ in self._alone_on(roll))
            if places**2 > MOST_AT_FIRST:
                break
            found.append(roll)
        return found

    def look(self, roll: int) -> None:
        """Work out the table of a roll."""
        of = self.instance.bundle_kinds
        places = [Place(roll, bundle, self.kind_numbers[of[bundle]]) for bundle in self._alone_on(roll)]
        places.append(Place(roll, None, len(self.kinds) - 1))
        self.tried += len(places) * len(self.kinds)
        found = [self._in_its_stead(place) for place in places]
        wide = max(shapes.shape[1] for shapes in found)
        shapes = np.full((len(places), len(self.kinds), wide), -1, np.int64)
        for number, one in enumerate(found):
            shapes[number, :, : one.shape[1]] = one
        ends = self._ends(roll, shapes.reshape(-1, wide))
        costs = ends + self.instance.opening
        if not self.instance.rolls[roll].used:
            costs[(shapes < 0).all(axis=2).ravel()] = 0
        costs[ends > self.instance.ends[roll]] = FAR
        more = costs.reshape(shapes.shape[:2]) - self._cost(roll)
        lot = self.instance.lot_of[roll]
        banned = [number for number, kind in enumerate(self.kind_numbers) if not kind.may_go(lot)]
        more[:, banned] = FAR
        self.tables[roll] = _Table(places, more, shapes)

    def _alone_on(self, roll: int) -> Iterator[int]:
        """The bundles that lie on the roll and nowhere else."""
        bundles, here = self.instance.item_bundles, set(self.orders[roll])
        for bundle in dict.fromkeys(bundles[item] for item in self.orders[roll]):
            if here.issuperset(self.instance.bundle_items[bundle]):
                yield bundle

    def _cost(self, roll: int) -> int:
        order = self.orders[roll]
        if not order and not self.instance.rolls[roll].used:
            return 0
        end = self.instance.tracks[roll].end([self.instance.item_shapes[item] for item in order])
        return max(end, self.instance.rolls[roll].used) + self.instance.opening

    def _in_its_stead(self, place: Place) -> Ints:
        """For each kind (kinds,) the shapes on the roll in order, (kinds, some): each of the kind where it and what
        comes after it lie with the least bare cloth, flaws left out of account."""
        instance, roll = self.instance, self.instance.rolls[place.roll]
        items = [item for item in self.orders[place.roll] if instance.item_bundles[item] != place.bundle]
        stay: Ints = np.array([instance.item_shapes[item] for item in items], np.int64)
        before = np.concatenate([[(roll.begin - roll.first_row) % self.repeat], self.tail[stay]])
        gaps = (self.phases[None, :] - before[:, None]) % self.repeat
        after = self.phases[stay]
        gaps[:-1] += (after[:, None] - self.tail[None, :]) % self.repeat
        gaps[:-1] -= ((after - before[:-1]) % self.repeat)[:, None]
        kinds, numbers = self.kinds, np.arange(len(self.kinds))
        at = np.full(kinds.shape, FAR, np.int64)
        for column in range(kinds.shape[1]):
            here = gaps[:, kinds[:, column]]
            for other in range(column):
                taken = np.flatnonzero(at[:, other] < FAR)
                here[at[taken, other], numbers[taken]] = FAR
            at[:, column] = np.where(kinds[:, column] >= 0, here.argmin(axis=0), FAR)
        keys = np.concatenate([np.tile(np.arange(len(stay)) * 2 + 1, (len(kinds), 1)), at * 2], 1)
        shapes = np.concatenate([np.tile(stay, (len(kinds), 1)), kinds], axis=1)
        ordered: Ints = np.take_along_axis(shapes, np.argsort(keys, axis=1, kind="stable"), axis=1)
        return ordered

    def _ends(self, roll: int, shapes: Ints) -> Ints:
        """Where the last of the shapes (n, some) of each row ends, none being -1, flaws in the way."""
        of = self.instance.rolls[roll]
        at = np.full(len(shapes), of.begin, np.int64)
        barriers = [*of.barriers]
        for column in range(shapes.shape[1]):
            shape = shapes[:, column]
            length, row = self.lengths[shape], of.first_row + self.phases[shape]
            start = at + (row - at) % self.repeat
            low, high = int(start.min()), int((start + length).max())
            for begin, end in barriers:
                if end <= low or begin >= high:
                    continue
                hit = np.flatnonzero((start < end) & (start + length > begin))
                start[hit] = end + (row[hit] - end) % self.repeat
                high = int((start + length).max())
            at = np.where(shape >= 0, start + length, at)
        return np.maximum(at, of.used)

    def rings(self) -> list[list[Place]]:
        """Rings that cost less, those that cost least first."""
        if not self.tables:
            return []
        tables = [self.tables[roll] for roll in sorted(self.tables)]
        places = [place for table in tables for place in table.places]
        kinds, rolls = (np.array([getattr(place, name) for place in places], np.int64) for name in ("kind", "roll"))
        more = np.concatenate([table.more for table in tables])[:, kinds]
        same = rolls[:, None] == rolls[None, :]
        lengths = self.kind_lengths[kinds]
        # What is longer costs more wherever it is laid: only what an exchange costs besides tells good ones apart.
        costs: Ints = np.where(same | (more >= FAR // 2), FAR, more - lengths[None, :] + lengths[:, None])
        return [[places[number] for number in ring] for _, ring in _cheap_rings(costs, rolls)]

    def turn(self, ring: Sequence[Place]) -> set[int]:
        """Lay in the stead of each place what lies at the next; the rolls that have changed."""
        instance = self.instance
        orders = {}
        for place, coming in zip(ring, [*ring[1:], ring[0]], strict=True):
            table = self.tables[place.roll]
            free: dict[int, list[int]] = {}
            stay = [item for item in self.orders[place.roll] if instance.item_bundles[item] != place.bundle]
            fresh = instance.bundle_items[coming.bundle] if coming.bundle is not None else ()
            for item in [*reversed(stay), *fresh]:
                free.setdefault(instance.item_shapes[item], []).append(item)
            shapes = table.shapes[table.places.index(place), coming.kind]
            orders[place.roll] = [free[int(shape)].pop() for shape in shapes if shape >= 0]
        for roll, order in orders.items():
            self.orders[roll] = order
        return set(orders)


def _cheap_rings(costs: Ints, rolls: Ints) -> list[tuple[int, tuple[int, ...]]]:
    """Rings of places on different rolls with what they cost, below nothing, from the costs (n, n) of laying in the
    stead of one place what lies at another."""
    follow = np.argsort(costs, axis=1, kind="stable")[:, :BEST]
    price = np.take_along_axis(costs, follow, axis=1)
    bits = np.int64(1) << (rolls % BITS)
    paths: Ints = np.arange(len(rolls), dtype=np.int64)[:, None]
    cost, met = np.zeros(len(rolls), np.int64), bits.copy()
    found: list[tuple[int, tuple[int, ...]]] = []
    for _ in range(LONGEST - 1):
        last = paths[:, -1]
        coming, whole = follow[last], cost[:, None] + price[last]
        row, column = np.nonzero((met[:, None] & bits[coming] == 0) & (price[last] < FAR))
        coming, cost = coming[row, column], whole[row, column]
        order = np.argsort(cost, kind="stable")[:KEPT]
        row, coming, cost = row[order], coming[order], cost[order]
        met = met[row] | bits[coming]
        paths = np.concatenate([paths[row], coming[:, None]], axis=1)
        closed = cost + np.minimum(costs[coming, paths[:, 0]], FAR)
        good = np.flatnonzero(closed < 0)
        found += ((int(closed[number]), tuple(map(int, paths[number]))) for number in good)
    return sorted(found)
