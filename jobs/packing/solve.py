"""The best layout of an instance: exact where it is small, otherwise filled and annealed, and held against a bound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from jobs.model.records import dataclass
from jobs.packing.anneal import anneal
from jobs.packing.bound import cannot_fit, least_used
from jobs.packing.exact import MOST_WORK, exact_layout, shared_out
from jobs.packing.first_fit import completed, first_fit
from jobs.packing.instance import Instance, Layout, layout_of
from jobs.packing.one_roll import beam_order, shortest, shortest_possible
from jobs.packing.rolls import Shape
from jobs.packing.watch import Watch


@dataclass(frozen=True)
class Effort:
    """How much is searched, counted in work and never by the clock, so that the same job has the same plan.

    Exact searches of about ``work`` steps at most; so many ``steps`` of annealing, or ``per_item`` for each item where
    that is less. Instances of more than ``most_annealed`` items are not annealed: single changes gain too little there.
    """

    work: int = MOST_WORK
    steps: int = 80_000
    per_item: int = 1_500
    most_annealed: int = 400
    fills: bool = True

    def some(self) -> Effort:
        """A quarter of the steps, for a search whose answer is searched on."""
        return replace(self, steps=self.steps // 4, per_item=self.per_item // 4)


MOST, LITTLE = Effort(), Effort(work=200_000, steps=3_000)
AT_ONCE = Effort(work=0, steps=0, fills=False)


@dataclass(frozen=True)
class Solved:
    """A layout, the use that no layout can beat, and whether the search was stopped by the person."""

    layout: Layout
    bound: int
    stopped: bool = False


def solve(instance: Instance, watch: Watch, effort: Effort = MOST) -> Solved:
    """The best layout found of the instance; an interrupt gives the best so far.

    Least beyond the ends of the rolls first, then least used, then fewest rolls opened. Same instance, same answer,
    unless interrupted.
    """
    lots = _longest_first(instance)
    watch.offer(layout_of(instance, first_fit(instance, lots)))
    stopped = False
    try:
        watch.bound = _bound(instance)
        exact = not watch.content() and _search(instance, lots, watch, effort)
    except KeyboardInterrupt:
        exact, stopped = False, True
    best = watch.best
    assert best is not None
    if best.over and not exact:
        watch.bound = _bound(_endless(instance, best))
    return Solved(best, best.used if exact else min(watch.bound, best.used), stopped)


def _search(instance: Instance, lots: list[list[int]], watch: Watch, effort: Effort) -> bool:
    """Offer layouts to the watch; whether the best of them is known to be the least."""
    if len(instance.rolls) == 1:
        shapes = [instance.shapes[shape] for shape in instance.item_shapes]
        found = shortest(instance.rolls[0], shapes, most_steps=effort.work)
        watch.offer(layout_of(instance, [_items(instance, found.order)]))
        if found.proved:
            return True
    exact = exact_layout(instance, effort.work)
    if exact is not None:
        watch.offer(exact)
        return True
    hopeless = cannot_fit(instance)
    shared = shared_out(instance) if effort.work and not (hopeless or watch.until_it_fits) else None
    if shared is not None:
        watch.offer(shared.layout)
        if watch.best is not None and shared.bound >= watch.best.cost:
            return True
        if watch.best is not None and not watch.best.over:
            # A cost counts the use by its weight and the rolls opened by less.
            watch.bound = max(watch.bound, shared.bound // instance.weight)
    count = len(instance.item_shapes)
    steps = min(effort.steps, effort.per_item * count) if count <= effort.most_annealed else 0
    if hopeless:
        # All that is to be found is how much is missing.
        steps = 0 if watch.until_it_fits else steps // 2
    if effort.fills and not (hopeless and (watch.until_it_fits or count > effort.most_annealed)):
        _fill(instance, lots, watch)
    if len(instance.rolls) == 1 and steps and not watch.content():
        order = beam_order(instance.rolls[0], Counter(instance.shapes[shape] for shape in instance.item_shapes))
        watch.offer(layout_of(instance, [_items(instance, order)]))
    start = watch.best
    if start is not None and steps and not watch.content():
        anneal(instance, start, steps, watch)
    if start is not None and steps > LITTLE.steps and watch.best is not None and watch.best.over:
        # What a short walk finds room for, a long one has to find room for too.
        anneal(instance, start, min(LITTLE.steps, LITTLE.per_item * count), watch)
    return False


def _fill(instance: Instance, lots: list[list[int]], watch: Watch) -> None:
    """Offer the layout that rolls filled one after another give; of an interrupted one what is done."""
    # Only a large instance is filled in arrays: a small plan does not wait for numpy to load.
    from jobs.packing.fill import fill

    orders: list[list[int]] = [[] for _ in instance.rolls]

    def beat() -> None:
        watch.laid = sum(map(len, orders)) / len(instance.item_shapes)
        watch.beat()

    try:
        fill(instance, lots, orders, beat)
    except KeyboardInterrupt:
        watch.offer(layout_of(instance, completed(instance, _whole(instance, orders), lots)))
        raise
    finally:
        watch.laid = 0.0
    watch.offer(layout_of(instance, completed(instance, orders, lots)))


def _items(instance: Instance, order: Sequence[Shape]) -> list[int]:
    """The items of shapes in an order on the only roll."""
    free: dict[Shape, list[int]] = {}
    for item in reversed(range(len(instance.item_shapes))):
        free.setdefault(instance.shapes[instance.item_shapes[item]], []).append(item)
    return [free[shape].pop() for shape in order]


def _whole(instance: Instance, orders: list[list[int]]) -> list[list[int]]:
    """The orders without items of bundles that are not laid whole, as an interrupt may leave them."""
    laid = Counter(instance.item_bundles[item] for order in orders for item in set(order))
    whole = {bundle for bundle, count in laid.items() if count == len(instance.bundles[bundle])}
    return [[item for item in dict.fromkeys(order) if instance.item_bundles[item] in whole] for order in orders]


def _longest_first(instance: Instance) -> list[list[int]]:
    lots = [sorted(lot, key=lambda roll: (-instance.ends[roll], roll)) for lot in instance.lots]
    return sorted(lots, key=lambda lot: (-sum(instance.ends[roll] for roll in lot), lot))


def _bound(instance: Instance) -> int:
    """No layout uses less; on a single roll the order without flaws is exact and often the better bound."""
    bound = least_used(instance)
    if len(instance.rolls) == 1:
        shapes = [instance.shapes[shape] for shape in instance.item_shapes]
        bound = max(bound, instance.rolls[0].used, shortest_possible(instance.rolls[0], shapes))
    return bound


def _endless(instance: Instance, layout: Layout) -> Instance:
    """The instance with every roll long enough for what lies on it."""
    rolls = tuple(replace(roll, end=(roll.end or 0) + layout.used) for roll in instance.rolls)
    return replace(instance, rolls=rolls)
