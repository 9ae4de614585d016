"""The least cloth over several rolls, exact, where there are few enough choices."""

from __future__ import annotations

from collections import Counter
from functools import cached_property

from jobs.model.records import dataclass
from jobs.packing.engines.one_roll import NEVER, Counting, Ends, earliest_ends, shortest, shortest_possible
from jobs.packing.instance import Instance, Kind, Layout, layout_of
from jobs.packing.rolls import Shape

MOST_WORK = 2_500_000
"""About how many steps an exact search may take; some two seconds."""
MOST_CHOICES = 1_500
"""Choices of bundles for rolls up to which every way to share them out is looked at: some eight windows."""
MOST_PUT_RIGHT, MOST_FOR_ONE = 60, 50_000
"""Times that costs are put right, and steps for the order of one roll meanwhile."""


def exact_layout(instance: Instance, most_work: int = MOST_WORK) -> Layout | None:
    """The layout of least cost, or None when finding it would take more than ``most_work`` steps.

    For every roll the earliest end of every choice of shapes; for every lot the least cost of every choice, its rolls
    taken one after another; for the instance the least cost of every choice of bundles, its lots one after another.
    """
    search = _Search(instance)
    return search.best() if search.work() <= most_work else None


@dataclass(frozen=True)
class _Search:
    instance: Instance

    @cached_property
    def kinds(self) -> list[Kind]:
        return list(self.instance.kinds)

    @cached_property
    def bundles(self) -> Counting:
        return Counting(tuple(len(bundles) for bundles in self.instance.kinds.values()))

    @cached_property
    def shapes(self) -> Counting:
        counts = Counter(self.instance.item_shapes)
        return Counting(tuple(counts[number] for number in range(len(self.instance.shapes))))

    def work(self) -> int:
        """About how many steps the search takes."""
        rolls = len(set(self.instance.rolls))
        steps = rolls * self.shapes.states * len(self.instance.shapes)
        inner = sum(len(lot) - 1 for lot in self.instance.lots)
        outer = max(0, len(self.instance.lots) - 2)
        return steps + inner * _pairs(self.shapes) + outer * _pairs(self.bundles) + self.bundles.states

    def best(self) -> Layout:
        ends: dict[object, Ends] = {}
        for roll, track in zip(self.instance.rolls, self.instance.tracks, strict=True):
            if roll not in ends:
                ends[roll] = earliest_ends(track, self.shapes.most)
        by_strip = [ends[roll] for roll in self.instance.rolls]
        lots = [_Lot(self.instance, lot, by_strip, self.shapes) for lot in self.instance.lots]
        states = self._shape_states()
        tables = [
            [
                lot.costs[state] if allowed else NEVER
                for state, allowed in zip(states, self._allowed(number), strict=True)
            ]
            for number, lot in enumerate(lots)
        ]
        chosen = _split(tables, self.bundles, self.bundles.states - 1)
        orders: list[list[int]] = [[] for _ in self.instance.rolls]
        free = {kind: list(bundles) for kind, bundles in self.instance.kinds.items()}
        for lot, state in zip(lots, chosen, strict=True):
            taken = self.bundles.taken(state)
            bundles = [free[kind].pop(0) for kind, count in zip(self.kinds, taken, strict=True) for _ in range(count)]
            items: dict[int, list[int]] = {}
            for bundle in bundles:
                for item in self.instance.bundle_items[bundle]:
                    items.setdefault(self.instance.item_shapes[item], []).append(item)
            for number, order in lot.orders(states[state]):
                orders[number] = [items[shape].pop(0) for shape in order]
        return layout_of(self.instance, orders)

    def _shape_states(self) -> list[int]:
        """For every choice of bundles the choice of shapes it comes to."""
        strides = self.shapes.strides
        steps = [sum(strides[shape] for shape in kind.shapes) for kind in self.kinds]
        states = [0]
        for step, count in zip(steps, self.bundles.most, strict=True):
            states = [state + taken * step for taken in range(count + 1) for state in states]
        return states

    def _allowed(self, lot: int) -> list[bool]:
        """For every choice of bundles whether they may all come from the lot."""
        allowed = [True]
        for kind, count in zip(self.kinds, self.bundles.most, strict=True):
            free = kind.may_go(lot)
            allowed = [may and (free or not taken) for taken in range(count + 1) for may in allowed]
        return allowed


class _Lot:
    """The rolls of one lot and the least cost of laying every choice of shapes on them."""

    def __init__(self, instance: Instance, lot: tuple[int, ...], ends: list[Ends], counting: Counting) -> None:
        self.lot, self.ends, self.counting = lot, ends, counting
        self.tables = [
            [
                _untouched(instance, roll),
                *(instance.cost(roll, end) if end < NEVER else NEVER for end in ends[roll].ends[1:]),
            ]
            for roll in lot
        ]
        self.sums = [self.tables[0]]
        for table in self.tables[1:]:
            self.sums.append(_added(self.sums[-1], table, counting))
        self.costs = self.sums[-1]

    def orders(self, state: int) -> list[tuple[int, tuple[int, ...]]]:
        """For a choice of shapes, which come from which roll, and in what order."""
        found = []
        for number in range(len(self.lot) - 1, 0, -1):
            part = _part(self.sums[number - 1], self.tables[number], self.counting, state)
            found.append((self.lot[number], self.ends[self.lot[number]].order(part)))
            state -= part
        found.append((self.lot[0], self.ends[self.lot[0]].order(state)))
        return found


def _untouched(instance: Instance, roll: int) -> int:
    return instance.cost(roll, 0) if instance.rolls[roll].used else 0


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


@dataclass(frozen=True)
class SharedOut:
    """A layout with every bundle on one roll, and the cost that no such layout can beat."""

    layout: Layout
    bound: int


def shared_out(instance: Instance, most_choices: int = MOST_CHOICES) -> SharedOut | None:
    """The best way to share the bundles out among rolls, each a lot by itself; None where there are too many choices.

    For every roll and every choice of bundles a cost that cannot be beaten comes from the order on a circle, flaws left
    out of account. The cheapest way to share out at these costs is laid; where a roll takes more than was thought, its
    cost is put right and the cheapest way looked for anew. When nothing is left to put right, none is cheaper.
    """
    search = _Sharing(instance)
    fitting = all(len(lot) == 1 for lot in instance.lots) and len(instance.rolls) > 1
    return search.best() if fitting and search.counting.states * len(instance.rolls) <= most_choices else None


@dataclass(frozen=True)
class _Sharing:
    instance: Instance

    @cached_property
    def counting(self) -> Counting:
        return Counting(tuple(len(bundles) for bundles in self.instance.kinds.values()))

    @cached_property
    def choices(self) -> list[list[Shape]]:
        """The shapes of every choice of bundles."""
        kinds = [[self.instance.shapes[shape] for shape in kind.shapes] for kind in self.instance.kinds]
        taken = (self.counting.taken(state) for state in range(self.counting.states))
        return [
            [shape for kind, count in zip(kinds, counts, strict=True) for shape in kind * count] for counts in taken
        ]

    def best(self) -> SharedOut:
        lots = [lot[0] for lot in self.instance.lots]
        sure = [self._costs(number, roll) for number, roll in enumerate(lots)]
        costs = [list(table) for table in sure]
        laid: dict[tuple[int, int], tuple[Shape, ...]] = {}
        last = self.counting.states - 1
        for _ in range(MOST_PUT_RIGHT):
            chosen = _split(costs, self.counting, last)
            wrong = [place for place in enumerate(chosen) if place[1] and place not in laid]
            for number, state in wrong:
                found = shortest(self.instance.rolls[lots[number]], self.choices[state], MOST_FOR_ONE)
                laid[number, state] = found.order
                costs[number][state] = self.instance.cost(lots[number], found.end)
                if found.proved:
                    sure[number][state] = costs[number][state]
            if not wrong:
                break
        parts = _split(sure, self.counting, last)
        bound = sum(table[part] for table, part in zip(sure, parts, strict=True))
        return SharedOut(self._layout(lots, chosen, laid), bound)

    def _costs(self, number: int, roll: int) -> list[int]:
        """The least that every choice of bundles may cost on a roll."""
        allowed = [True]
        for kind, count in zip(self.instance.kinds, self.counting.most, strict=True):
            free = kind.may_go(number)
            allowed = [may and (free or not taken) for taken in range(count + 1) for may in allowed]
        return [
            _untouched(self.instance, roll)
            if not shapes
            else self.instance.cost(roll, shortest_possible(self.instance.rolls[roll], shapes))
            if may
            else NEVER
            for shapes, may in zip(self.choices, allowed, strict=True)
        ]

    def _layout(self, lots: list[int], chosen: list[int], laid: dict[tuple[int, int], tuple[Shape, ...]]) -> Layout:
        numbers = {shape: number for number, shape in enumerate(self.instance.shapes)}
        free = {kind: list(bundles) for kind, bundles in self.instance.kinds.items()}
        orders: list[list[int]] = [[] for _ in self.instance.rolls]
        for number, state in enumerate(chosen):
            items: dict[int, list[int]] = {}
            for kind, count in zip(free, self.counting.taken(state), strict=True):
                for bundle in [free[kind].pop(0) for _ in range(count)]:
                    for item in self.instance.bundle_items[bundle]:
                        items.setdefault(self.instance.item_shapes[item], []).append(item)
            order = laid.get((number, state), tuple(self.choices[state]))
            orders[lots[number]] = [items[numbers[shape]].pop(0) for shape in order]
        return layout_of(self.instance, orders)
