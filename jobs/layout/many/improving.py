"""Improving a layout by small changes, some for the worse at first, and keeping the best.

Changes: an item moves or two items swap within a lot; a bundle moves to another lot or two bundles of different lots
swap. How much worse is taken shrinks as the search goes on (simulated annealing: S. Kirkpatrick, C. D. Gelatt and
M. P. Vecchi, *Optimization by simulated annealing*, Science 220, 1983). Random numbers come from a fixed seed: same
house, same answer.
"""

from __future__ import annotations

import math
import random

from jobs.layout.many.house import House, Layout, layout_of
from jobs.layout.many.watch import Watch

OVER = 6
"""What a grain beyond the end of a strip counts for during the search, in grains used."""

LOOK = 256
"""Steps between two looks at how warm it is and whether to stop."""

Change = dict[int, tuple[list[int], int, int]]
"""For each strip changed its new order, the first place changed, and the places left unchanged at its end."""


def improved(house: House, layout: Layout, steps: int, warmth: float, watch: Watch, seed: int) -> None:
    """Walk so many steps from ``layout`` and offer what is better to the watch; end early at the watch's bound.

    ``warmth`` is the first temperature in grains.
    """
    walk = _Walk(house, layout, seed)
    cooling = math.log(0.002)
    for step in range(0, steps, LOOK):
        warm = warmth * math.exp(cooling * step / steps)
        for _ in range(LOOK):
            if walk.tried(warm) and walk.cost < walk.least:
                walk.least = walk.cost
                walk.keep()
        if walk.kept is not None:
            found = layout_of(house, walk.kept)
            walk.kept = None
            watch.offer(found)
            if found.used <= watch.bound and not found.over:
                break
        watch.beat()


class _Walk:
    """Where the walk stands: orders with the starts of their items, and what they cost."""

    def __init__(self, house: House, layout: Layout, seed: int) -> None:
        self.house = house
        self.dice = random.Random(seed)
        self.shapes = house.item_shapes
        self.lengths = [house.shapes[shape].length for shape in self.shapes]
        self.bundles = house.item_bundles
        self.mates = [house.bundle_items[bundle] for bundle in self.bundles]
        self.lot_of = house.lot_of
        self.orders = [list(order) for order in layout.orders]
        self.starts = [
            track.starts([self.shapes[item] for item in order])
            for track, order in zip(house.tracks, self.orders, strict=True)
        ]
        self.at = [0] * len(self.shapes)
        for strip, order in enumerate(self.orders):
            for item in order:
                self.at[item] = strip
        self.costs = [self._cost(strip, self._end(strip)) for strip in range(len(self.orders))]
        self.cost = self.least = sum(self.costs)
        self.kept: list[list[int]] | None = None

    def keep(self) -> None:
        self.kept = [list(order) for order in self.orders]

    def _end(self, strip: int) -> int:
        order = self.orders[strip]
        return self.starts[strip][-1] + self.lengths[order[-1]] if order else 0

    def _cost(self, strip: int, end: int) -> int:
        end = max(end, self.house.strips[strip].used)
        over = end - self.house.ends[strip]
        return end + OVER * over if over > 0 else end

    def tried(self, warm: float) -> bool:
        """Whether a random change was taken."""
        change = self._change()
        if change is None:
            return False
        found, cost = [], self.cost
        for strip, (order, first, same) in change.items():
            starts = self._laid(strip, order, first, same)
            end = starts[-1] + self.lengths[order[-1]] if order else 0
            here = self._cost(strip, end)
            cost += here - self.costs[strip]
            found.append((strip, order, starts, here))
        worse = cost - self.cost
        if worse > 0 and worse > -warm * math.log(1.0 - self.dice.random()):
            return False
        for strip, order, starts, here in found:
            self.orders[strip], self.starts[strip], self.costs[strip] = order, starts, here
            for item in order:
                self.at[item] = strip
        self.cost = cost
        return True

    def _laid(self, strip: int, order: list[int], first: int, same: int) -> list[int]:
        """Starts of the items of a changed order; the last ``same`` are laid anew only until they fall in step."""
        track, shapes, old = self.house.tracks[strip], self.shapes, self.starts[strip]
        starts = old[:first]
        at = starts[-1] + self.lengths[order[first - 1]] if first else track.begin
        lengths, start_of = track.lengths, track.start
        changed, shift = len(order) - same, len(old) - len(order)
        for place in range(first, len(order)):
            shape = shapes[order[place]]
            start = start_of(shape, at)
            if place >= changed and old[place + shift] == start:
                return starts + old[place + shift :]
            starts.append(start)
            at = start + lengths[shape]
        return starts

    def _change(self) -> Change | None:
        random_ = self.dice.random
        item = int(random_() * len(self.shapes))
        other = int(random_() * len(self.shapes))
        here, there = self.at[item], self.at[other]
        kind = random_()
        if here == there:
            return self._within(here, item, other, kind)
        mine: tuple[int, ...]
        others: tuple[int, ...]
        if self.lot_of[here] == self.lot_of[there] or len(self.mates[item]) == len(self.mates[other]) == 1:
            mine, others = (item,), (other,)
        else:
            mine, others = self.mates[item], self.mates[other]
        if kind < 0.7:
            return self._swapped(here, there, mine, others)
        return self._moved(here, mine, kind)

    def _within(self, strip: int, item: int, other: int, kind: float) -> Change | None:
        order = list(self.orders[strip])
        i, j = order.index(item), order.index(other)
        if i == j or self.shapes[item] == self.shapes[other]:
            return None
        if kind < 0.4:
            order[i], order[j] = other, item
        elif kind < 0.85:
            order.insert(j, order.pop(i))
        else:
            low, high = min(i, j), max(i, j) + 1
            order[low:high] = order[low:high][::-1]
        return {strip: (order, min(i, j), len(order) - 1 - max(i, j))}

    def _swapped(self, here: int, there: int, mine: tuple[int, ...], others: tuple[int, ...]) -> Change:
        return {here: self._replaced(here, mine, others), there: self._replaced(there, others, mine)}

    def _replaced(self, strip: int, out: tuple[int, ...], into: tuple[int, ...]) -> tuple[list[int], int, int]:
        """The order of a strip with other items in the places of those that leave."""
        order = self.orders[strip]
        places = sorted(order.index(item) for item in out)
        fresh = list(into)
        if len(fresh) > 1:
            self.dice.shuffle(fresh)
        found = list(order)
        for place in places[: len(fresh)]:
            found[place] = fresh.pop()
        for place in reversed(places[len(into) :]):
            del found[place]
        while fresh:
            found.insert(places[0] + 1, fresh.pop())
        return found, places[0], len(order) - 1 - places[-1]

    def _moved(self, here: int, mine: tuple[int, ...], kind: float) -> Change | None:
        """Items taken to another strip, next to each other or each to a place of its own."""
        there = int(self.dice.random() * len(self.orders))
        if there == here or (len(mine) < len(self.mates[mine[0]]) and self.lot_of[there] != self.lot_of[here]):
            return None
        order = self.orders[here]
        places = [order.index(item) for item in mine]
        left = [item for item in order if item not in mine]
        target = list(self.orders[there])
        place = int(self.dice.random() * (len(target) + 1))
        first, last = place, place
        for item in mine:
            target.insert(place, item)
            first, last = min(first, place), max(last + 1, place)
            if kind < 0.85:
                place = int(self.dice.random() * (len(target) + 1))
        same = len(target) - 1 - max(target.index(item) for item in mine)
        return {
            here: (left, min(places), len(order) - 1 - max(places)),
            there: (target, min(target.index(item) for item in mine), same),
        }
