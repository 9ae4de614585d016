"""Improving a layout by small changes, some for the worse at first, and keeping the best.

Changes: an item moves or two items swap within a lot; a bundle moves to another lot or two bundles of different lots
swap. How much worse is taken shrinks as the search goes on (simulated annealing: S. Kirkpatrick, C. D. Gelatt and
M. P. Vecchi, *Optimization by simulated annealing*, Science 220, 1983). Random numbers come from a fixed seed: same
instance, same answer.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

from jobs.model.records import dataclass
from jobs.packing.instance import Instance, Layout, layout_of
from jobs.packing.watch import Watch

OVER = 6
"""What a unit beyond the end of a roll counts for during the search, in units used."""

LOOK = 256
"""Steps between two looks at how warm it is and whether to stop."""

COLDEST = 0.002
"""The last temperature as a share of the first."""


@dataclass(frozen=True)
class _Edited:
    """A roll's new order; the places before ``first`` and the last ``same`` of them are as they were."""

    order: list[int]
    first: int
    same: int


def anneal(instance: Instance, layout: Layout, steps: int, watch: Watch, seed: int = 1) -> None:
    """Walk so many steps from ``layout`` and offer what is better to the watch; end early when it has had enough."""
    walk = _Walk(instance, layout, seed)
    repeat = instance.rolls[0].repeat
    warmth = (repeat or min(shape.length for shape in instance.shapes) // 4) / 6
    for step in range(0, steps, LOOK):
        warm = warmth * math.exp(math.log(COLDEST) * step / steps)
        for _ in range(LOOK):
            if walk.tried(warm) and walk.cost < walk.least:
                walk.least = walk.cost
                walk.keep()
        if walk.kept is not None:
            watch.offer(layout_of(instance, walk.kept))
            walk.kept = None
            if watch.content():
                break
        watch.beat()


class _Walk:
    """Where the walk stands: orders with the starts of their items, and what they cost."""

    def __init__(self, instance: Instance, layout: Layout, seed: int) -> None:
        self.instance = instance
        self.dice = random.Random(seed)
        self.shapes = instance.item_shapes
        self.lengths = [instance.shapes[shape].length for shape in self.shapes]
        self.mates = [instance.bundle_items[bundle] for bundle in instance.item_bundles]
        self.kinds = [instance.bundle_kinds[bundle] for bundle in instance.item_bundles]
        self.lot_of = instance.lot_of
        self.orders = [list(order) for order in layout.orders]
        self.starts = [
            track.starts([self.shapes[item] for item in order])
            for track, order in zip(instance.tracks, self.orders, strict=True)
        ]
        self.at = [0] * len(self.shapes)
        for roll, order in enumerate(self.orders):
            for item in order:
                self.at[item] = roll
        ends = [
            starts[-1] + self.lengths[o[-1]] if o else 0 for starts, o in zip(self.starts, self.orders, strict=True)
        ]
        self.costs = [self._cost(roll, end) for roll, end in enumerate(ends)]
        self.cost = self.least = sum(self.costs)
        self.kept: list[list[int]] | None = None

    def keep(self) -> None:
        self.kept = [list(order) for order in self.orders]

    def _cost(self, roll: int, end: int) -> int:
        end = max(end, self.instance.rolls[roll].used)
        over = end - self.instance.ends[roll]
        return end + OVER * over if over > 0 else end

    def tried(self, warm: float) -> bool:
        """Whether a random change was taken."""
        found, cost = [], self.cost
        for roll, edited in self._change().items():
            starts = self._laid(roll, edited)
            end = starts[-1] + self.lengths[edited.order[-1]] if starts else 0
            here = self._cost(roll, end)
            cost += here - self.costs[roll]
            found.append((roll, edited.order, starts, here))
        worse = cost - self.cost
        if not found or (worse > 0 and worse > -warm * math.log(1.0 - self.dice.random())):
            return False
        for roll, order, starts, here in found:
            self.orders[roll], self.starts[roll], self.costs[roll] = order, starts, here
            for item in order:
                self.at[item] = roll
        self.cost = cost
        return True

    def _laid(self, roll: int, edited: _Edited) -> list[int]:
        """Starts of the items of a changed order; those left unchanged at its end only until they fall in step."""
        track, shapes, old = self.instance.tracks[roll], self.shapes, self.starts[roll]
        order, first = edited.order, edited.first
        starts = old[:first]
        at = starts[-1] + self.lengths[order[first - 1]] if first else track.begin
        lengths, start_of = track.lengths, track.start
        changed, shift = len(order) - edited.same, len(old) - len(order)
        for place in range(first, len(order)):
            shape = shapes[order[place]]
            start = start_of(shape, at)
            if place >= changed and old[place + shift] == start:
                return starts + old[place + shift :]
            starts.append(start)
            at = start + lengths[shape]
        return starts

    def _change(self) -> dict[int, _Edited]:
        """A random change, by roll; none where the one that came up changes nothing or is not allowed."""
        item, other = self._any(len(self.shapes)), self._any(len(self.shapes))
        kind = self.dice.random()
        here, there = self.at[item], self.at[other]
        if here == there:
            return self._within(here, item, other, kind)
        if kind >= 0.7:
            return self._moved(item, self._any(len(self.orders)), scattered=kind < 0.85)
        if self.lot_of[here] == self.lot_of[there]:
            return self._exchanged((item,), (other,))
        if self._may_go(item, there) and self._may_go(other, here):
            return self._exchanged(self.mates[item], self.mates[other])
        return {}

    def _any(self, count: int) -> int:
        return int(self.dice.random() * count)

    def _may_go(self, item: int, roll: int) -> bool:
        return self.kinds[item].may_go(self.lot_of[roll])

    def _within(self, roll: int, item: int, other: int, kind: float) -> dict[int, _Edited]:
        order = list(self.orders[roll])
        i, j = order.index(item), order.index(other)
        if i == j or self.shapes[item] == self.shapes[other]:
            return {}
        if kind < 0.4:
            order[i], order[j] = other, item
        elif kind < 0.85:
            order.insert(j, order.pop(i))
        else:
            low, high = min(i, j), max(i, j) + 1
            order[low:high] = order[low:high][::-1]
        return {roll: _Edited(order, min(i, j), len(order) - 1 - max(i, j))}

    def _exchanged(self, mine: Sequence[int], others: Sequence[int]) -> dict[int, _Edited]:
        """Items in each other's places; those left over of the larger group stand behind the last place of it."""
        slots = {roll: [[item] for item in self.orders[roll]] for roll in {self.at[item] for item in (*mine, *others)}}
        for leaving, coming in ((mine, others), (others, mine)):
            fresh = list(coming)
            if len(fresh) > 1:
                self.dice.shuffle(fresh)
            places = sorted((self.at[item], self.orders[self.at[item]].index(item)) for item in leaving)
            for roll, place in places:
                slots[roll][place] = [fresh.pop()] if fresh else []
            slots[places[-1][0]][places[-1][1]] += fresh
        return {roll: self._edited(roll, [item for slot in each for item in slot]) for roll, each in slots.items()}

    def _moved(self, item: int, there: int, *, scattered: bool) -> dict[int, _Edited]:
        """An item taken to another roll, with the rest of its bundle where that roll is of another lot."""
        lot = self.lot_of[there]
        if there == self.at[item] or not self._may_go(item, there):
            return {}
        leaving = (item,) if lot == self.lot_of[self.at[item]] else self.mates[item]
        orders: dict[int, list[int]] = {}
        for one in leaving:
            orders.setdefault(self.at[one], list(self.orders[self.at[one]])).remove(one)
        place = self._any(len(self.orders[there]) + 1)
        for one in leaving:
            target = orders.setdefault(there, list(self.orders[there]))
            target.insert(place, one)
            if scattered:
                there = self.instance.lots[lot][self._any(len(self.instance.lots[lot]))]
                place = self._any(len(orders.get(there, self.orders[there])) + 1)
        return {roll: self._edited(roll, order) for roll, order in orders.items()}

    def _edited(self, roll: int, order: list[int]) -> _Edited:
        old, first, same = self.orders[roll], 0, 0
        most = min(len(old), len(order))
        while first < most and old[first] == order[first]:
            first += 1
        while same < most - first and old[-1 - same] == order[-1 - same]:
            same += 1
        return _Edited(order, first, same)
