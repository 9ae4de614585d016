"""The best layout of an instance: exact where it is small, otherwise filled and annealed, and held against a bound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from jobs.model.records import dataclass
from jobs.packing.bound import cannot_fit, least_used, roomiest
from jobs.packing.engines.anneal import anneal
from jobs.packing.engines.exact import MOST_WORK, exact_layout, shared_out
from jobs.packing.engines.first_fit import completed, first_fit
from jobs.packing.engines.one_roll import beam_order, shortest, shortest_possible
from jobs.packing.instance import Instance, Layout, layout_of
from jobs.packing.opening import Some, choices_of, exchanged, least_on_few, opened_at_least, spilled
from jobs.packing.rolls import Shape
from jobs.packing.watch import Watch


@dataclass(frozen=True)
class Effort:
    """How much is searched, counted in work and never by the clock, so that the same job has the same plan.

    Exact searches of about ``work`` steps at most; so many ``steps`` of annealing, or ``per_item`` for each item where
    that is less. Instances of more than ``most_annealed`` items are not annealed: single changes gain too little there;
    in so many rounds as ``refills`` the worst of their rolls are filled anew, then bundles exchanged.
    """

    work: int = MOST_WORK
    steps: int = 80_000
    per_item: int = 1_500
    most_annealed: int = 400
    fills: bool = True
    refills: int = 2

    def some(self) -> Effort:
        """A quarter of the steps, for a search whose answer is searched on."""
        return replace(self, steps=self.steps // 4, per_item=self.per_item // 4, refills=self.refills // 4)


MOST, LITTLE = Effort(), Effort(work=200_000, steps=3_000, refills=0)
AT_ONCE = Effort(work=0, steps=0, fills=False, refills=0)


MARGIN = 50
"""One part in so many of what the cuts cover is left to spare on the rolls that are opened first, where there are too
many cuts to make up for little room by single changes."""


@dataclass(frozen=True)
class Solved:
    """A layout, the rolls that no layout can open fewer of, the use that none can beat that opens as few as this one,
    and whether the search was stopped by the person."""

    layout: Layout
    bound: int
    stopped: bool = False
    least_opened: int = 0


def solve(instance: Instance, watch: Watch, effort: Effort = MOST) -> Solved:
    """The best layout found of the instance; an interrupt gives the best so far.

    Least beyond the ends of the rolls first, then fewest rolls opened, then least used. Same instance, same answer,
    unless interrupted.
    """
    watch.offer(layout_of(instance, first_fit(instance, _longest_first(instance))))
    stopped = False
    try:
        watch.bound, watch.least_opened = _bound(instance), opened_at_least(instance)
        exact = not watch.content() and _search(instance, watch, effort)
    except KeyboardInterrupt:
        exact, stopped = False, True
    best = watch.best
    assert best is not None
    if exact:
        return Solved(best, best.used, stopped, best.opened)
    if best.over:
        watch.bound = _bound(_endless(instance, best))
    elif len(instance.rolls) > 1:
        watch.bound = max(watch.bound, least_on_few(instance, best.opened))
    return Solved(best, min(watch.bound, best.used), stopped, min(watch.least_opened, best.opened))


def _search(instance: Instance, watch: Watch, effort: Effort) -> bool:
    """Offer layouts to the watch; whether the best of them is known to be the best there is."""
    if _exactly(instance, watch, effort):
        return True
    if len(instance.rolls) == 1 or watch.until_it_fits or cannot_fit(instance):
        _improved(instance, watch, effort)
        return False
    if not _Few(instance, watch).search(effort):
        _improved(instance, watch, effort)
    if watch.best is not None and not watch.best.over:
        if len(instance.item_shapes) > effort.most_annealed:
            _refill(instance, effort.refills, watch)
        watch.offer(exchanged(instance, watch.best))
    return False


class _Few:
    """The search on few of the rolls of an instance, what was found on them kept for a longer search."""

    def __init__(self, instance: Instance, watch: Watch) -> None:
        self.instance, self.watch = instance, watch
        self.found: dict[tuple[int, ...], Layout] = {}

    def search(self, effort: Effort) -> bool:
        """Offer layouts on as few rolls as they are found for; whether there is one.

        Few rolls are tried with little search, what finds no room there spills over on others; then those just too few
        and the fewest that sufficed are tried with all of it.
        """
        count, watch = len(self.instance.item_shapes), self.watch
        walks = bool(effort.steps) and count <= effort.most_annealed
        first = watch.least_opened if walks else _roomy(self.instance)
        quick = replace(effort, work=0, steps=min(effort.steps, LITTLE.steps))
        tries = (self._on(few, quick) for few in range(first, len(self.instance.rolls) + 1))
        opened = next((opened for opened in tries if opened), 0)
        while walks and opened > watch.least_opened:
            fewer = self._on(opened - 1, effort)
            if not 0 < fewer < opened:
                break
            opened = fewer
        if opened and walks and not watch.content():
            self._on(opened, effort)
        return opened > 0

    def _on(self, most: int, effort: Effort) -> int:
        """Offer layouts on so many rolls, those with most room; how many the best of them opens, 0 where none fits."""
        found = [self._opened(Some(self.instance, rolls), effort) for rolls in choices_of(self.instance, most)]
        return min((opened for opened in found if opened), default=0)

    def _opened(self, some: Some, effort: Effort) -> int:
        if some.instance is None or cannot_fit(some.instance):
            return 0
        inner = self.watch.within(some.widened)
        before = self.found.get(some.rolls)
        inner.offer(before or layout_of(some.instance, first_fit(some.instance, _longest_first(some.instance))))
        if not (effort.work and _exactly(some.instance, inner, effort)):
            _improved(some.instance, inner, replace(effort, fills=effort.fills and before is None))
        assert inner.best is not None
        self.found[some.rolls] = inner.best
        layout = some.widened(inner.best)
        if layout.over:
            orders = spilled(self.instance, layout)
            lots = sorted(self.instance.lots, key=lambda lot: (not any(orders[roll] for roll in lot), lot))
            layout = layout_of(self.instance, completed(self.instance, orders, lots))
            self.watch.offer(layout)
        return 0 if layout.over else layout.opened


def _roomy(instance: Instance) -> int:
    """So many rolls as have some room to spare."""
    lines, needed = roomiest(instance)[0]
    most, given = needed + needed // MARGIN, 0
    for count, roll in enumerate(sorted(lines, reverse=True), 1):
        given += roll
        if given >= most:
            return count
    return len(lines)


def _exactly(instance: Instance, watch: Watch, effort: Effort) -> bool:
    """Offer what exact engines find; whether that is known to be the best there is."""
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
    shared = shared_out(instance) if effort.work and not (watch.until_it_fits or cannot_fit(instance)) else None
    if shared is None:
        return False
    watch.offer(shared.layout)
    best = watch.best
    assert best is not None
    if shared.bound >= best.cost:
        return True
    if not best.over:
        opened, used = divmod(shared.bound, instance.opening)
        watch.least_opened = max(watch.least_opened, opened)
        if opened == best.opened:
            watch.bound = max(watch.bound, used)
    return False


def _improved(instance: Instance, watch: Watch, effort: Effort) -> None:
    """Offer what filling rolls one after another gives, and what a walk from there finds."""
    hopeless, lots = cannot_fit(instance), _longest_first(instance)
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


def _fill(instance: Instance, lots: list[list[int]], watch: Watch) -> None:
    """Offer the layout that rolls filled one after another give; of an interrupted one what is done."""
    # Only a large instance is filled in arrays: a small plan does not wait for numpy to load.
    from jobs.packing.engines.fill import fill

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


def _refill(instance: Instance, rounds: int, watch: Watch) -> None:
    """Offer the best layout with the worst of its rolls filled anew, round after round, then with bundles exchanged."""
    from jobs.packing.engines.exchange import exchanged_in_rings
    from jobs.packing.engines.refill import refilled

    for number in range(rounds):
        if watch.best is not None and not watch.content():
            watch.offer(refilled(instance, watch.best, number, watch.beat))
    if rounds and watch.best is not None and not watch.content():
        watch.offer(exchanged_in_rings(instance, watch.best, watch.beat))


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
