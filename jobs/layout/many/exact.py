"""The least cloth over several strips, exact, where there are few enough choices."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cached_property

from jobs.layout.many.house import House, Layout, layout_of
from jobs.layout.one_piece.counting import NEVER, Counting, Ends, earliest_ends

MOST_WORK = 2_500_000
"""About how many steps an exact search may take; some two seconds."""


def exact_layout(house: House, most_work: int = MOST_WORK) -> Layout | None:
    """The layout of least cost, or None when finding it would take more than ``most_work`` steps.

    For every strip the earliest end of every choice of shapes; for every lot the least cost of every choice, its strips
    taken one after another; for the house the least cost of every choice of bundles, its lots one after another.
    """
    search = _Search(house)
    return search.best() if search.work() <= most_work else None


@dataclass(frozen=True)
class _Search:
    house: House

    @cached_property
    def kinds(self) -> list[tuple[int, ...]]:
        """The different bundles."""
        return list(dict.fromkeys(self.house.bundles))

    @cached_property
    def bundles(self) -> Counting:
        counts = Counter(self.house.bundles)
        return Counting(tuple(counts[kind] for kind in self.kinds))

    @cached_property
    def shapes(self) -> Counting:
        counts = Counter(self.house.item_shapes)
        return Counting(tuple(counts[number] for number in range(len(self.house.shapes))))

    def work(self) -> int:
        """About how many steps the search takes."""
        strips = len(set(self.house.strips))
        steps = strips * self.shapes.states * len(self.house.shapes)
        inner = sum(len(lot) - 1 for lot in self.house.lots)
        outer = max(0, len(self.house.lots) - 2)
        return steps + inner * _pairs(self.shapes) + outer * _pairs(self.bundles) + self.bundles.states

    def best(self) -> Layout:
        ends: dict[object, Ends] = {}
        for strip, track in zip(self.house.strips, self.house.tracks, strict=True):
            if strip not in ends:
                ends[strip] = earliest_ends(track, self.shapes.most)
        by_strip = [ends[strip] for strip in self.house.strips]
        lots = [_Lot(self.house, lot, by_strip, self.shapes) for lot in self.house.lots]
        states = self._shape_states()
        tables = [[lot.costs[state] for state in states] for lot in lots]
        chosen = _split(tables, self.bundles, self.bundles.states - 1)
        orders: list[list[int]] = [[] for _ in self.house.strips]
        free = self._free_bundles()
        for lot, state in zip(lots, chosen, strict=True):
            taken = self.bundles.taken(state)
            bundles = [free[kind].pop(0) for kind, count in zip(self.kinds, taken, strict=True) for _ in range(count)]
            items: dict[int, list[int]] = {}
            for bundle in bundles:
                for item in self.house.bundle_items[bundle]:
                    items.setdefault(self.house.item_shapes[item], []).append(item)
            for number, order in lot.orders(states[state]):
                orders[number] = [items[shape].pop(0) for shape in order]
        return layout_of(self.house, orders)

    def _shape_states(self) -> list[int]:
        """For every choice of bundles the choice of shapes it comes to."""
        strides = self.shapes.strides
        steps = [sum(strides[shape] for shape in kind) for kind in self.kinds]
        states = [0]
        for step, count in zip(steps, self.bundles.most, strict=True):
            states = [state + taken * step for taken in range(count + 1) for state in states]
        return states

    def _free_bundles(self) -> dict[tuple[int, ...], list[int]]:
        free: dict[tuple[int, ...], list[int]] = {}
        for number, bundle in enumerate(self.house.bundles):
            free.setdefault(bundle, []).append(number)
        return free


class _Lot:
    """The strips of one lot and the least cost of laying every choice of shapes on them."""

    def __init__(self, house: House, lot: tuple[int, ...], ends: list[Ends], counting: Counting) -> None:
        self.lot, self.ends, self.counting = lot, ends, counting
        self.tables = [
            [
                _untouched(house, strip),
                *(house.cost(strip, end) if end < NEVER else NEVER for end in ends[strip].ends[1:]),
            ]
            for strip in lot
        ]
        self.sums = [self.tables[0]]
        for table in self.tables[1:]:
            self.sums.append(_added(self.sums[-1], table, counting))
        self.costs = self.sums[-1]

    def orders(self, state: int) -> list[tuple[int, tuple[int, ...]]]:
        """For a choice of shapes, which come from which strip, and in what order."""
        found = []
        for number in range(len(self.lot) - 1, 0, -1):
            part = _part(self.sums[number - 1], self.tables[number], self.counting, state)
            found.append((self.lot[number], self.ends[self.lot[number]].order(part)))
            state -= part
        found.append((self.lot[0], self.ends[self.lot[0]].order(state)))
        return found


def _untouched(house: House, strip: int) -> int:
    return house.cost(strip, 0) if house.strips[strip].used else 0


def _pairs(counting: Counting) -> int:
    """How many pairs of a choice and a part of it there are."""
    pairs = 1
    for count in counting.most:
        pairs *= (count + 1) * (count + 2) // 2
    return pairs


def _added(first: list[int], second: list[int], counting: Counting) -> list[int]:
    """For every choice the least cost of taking a part of it from the second and the rest from the first."""
    return [min([first[state - part] + second[part] for part in counting.parts(state)]) for state in range(len(first))]


def _part(first: list[int], second: list[int], counting: Counting, state: int) -> int:
    """The part of a choice that is best taken from the second."""
    return min(counting.parts(state), key=lambda part: (first[state - part] + second[part], part))


def _split(tables: list[list[int]], counting: Counting, state: int) -> list[int]:
    """Which part of a choice each table takes at the least cost together."""
    sums = [tables[0]]
    for table in tables[1:-1]:
        sums.append(_added(sums[-1], table, counting))
    chosen = []
    for number in range(len(tables) - 1, 0, -1):
        part = _part(sums[number - 1], tables[number], counting, state)
        chosen.append(part)
        state -= part
    return [state, *reversed(chosen)]
