"""The best layout of a house: exact where it is small, otherwise filled, improved, and held against a bound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from jobs.layout.many.bound import least_used
from jobs.layout.many.exact import exact_layout
from jobs.layout.many.filling import Taste, filled
from jobs.layout.many.first import first_fit, laid_on
from jobs.layout.many.house import House, Layout, layout_of
from jobs.layout.many.improving import improved
from jobs.layout.many.watch import Watch
from jobs.layout.one_piece.bound import shortest_possible
from jobs.layout.one_piece.shortest import shortest
from jobs.layout.placing import Shape

SMALL, LARGE = 150, 400
"""Items up to which every taste is tried, and from which on single changes gain too little to be tried."""

TASTES = (
    Taste(width=12, near=3, owing=3),
    Taste(width=20, near=4, owing=2, rate=1000, full=1100),
    Taste(width=12, near=3, owing=3, gap=0, full=2500),
)
FULL = Taste(width=6, full=4000)

STEPS_SMALL, STEPS_LARGE = 120_000, 60_000


@dataclass(frozen=True)
class Solved:
    """A layout, the use that no layout can beat, and whether the search was stopped by the person."""

    layout: Layout
    bound: int
    stopped: bool = False


def solved(house: House, watch: Watch) -> Solved:
    """The best layout found of the house; an interrupt gives the best so far.

    Least beyond the ends of the strips first, then least used, then fewest strips opened. Same house, same answer,
    unless interrupted.
    """
    lots = _longest_first(house)
    watch.offer(layout_of(house, first_fit(house, lots)))
    stopped = False
    try:
        watch.bound = _bound(house)
        exact = _search(house, lots, watch)
    except KeyboardInterrupt:
        exact, stopped = False, True
    best = watch.best
    assert best is not None
    if best.over and not exact:
        watch.bound = _bound(_endless(house, best))
    return Solved(best, best.used if exact else min(watch.bound, best.used), stopped)


def _search(house: House, lots: list[list[int]], watch: Watch) -> bool:
    """Offer layouts to the watch; whether the best of them is known to be the least."""
    if len(house.strips) == 1:
        found = shortest(house.strips[0], [house.shapes[shape] for shape in house.item_shapes])
        watch.offer(layout_of(house, [_items(house, found.order)]))
        if found.proved:
            return True
    exact = exact_layout(house)
    if exact is not None:
        watch.offer(exact)
        return True
    starts = _starts(house, lots, watch)
    if watch.best is not None and (watch.best.used > watch.bound or watch.best.over):
        _improve(house, starts, watch)
    return False


def _starts(house: House, lots: list[list[int]], watch: Watch) -> list[Layout]:
    """Layouts to improve, the best first."""
    small = len(house.item_shapes) <= SMALL
    found: list[Layout] = []

    def offer(orders: list[list[int]]) -> None:
        found.append(layout_of(house, _completed(house, orders, lots)))
        watch.offer(found[-1])

    if watch.best is not None:
        found.append(watch.best)
    orders: list[list[int]] = [[] for _ in house.strips]

    def beat() -> None:
        watch.laid = sum(map(len, orders)) / len(house.item_shapes)
        watch.beat()

    try:
        # Only a large house fills in arrays: a small plan does not wait for numpy to load.
        from jobs.layout.many.rounds import fill_in_rounds

        fill_in_rounds(house, lots, orders, beat)
    except KeyboardInterrupt:
        offer(_whole(house, orders))
        raise
    finally:
        watch.laid = 0.0
    offer(orders)
    if small:
        for taste in TASTES:
            offer(filled(house, lots, taste, watch.beat))
        if len(lots) > 1:
            offer(filled(house, lots[::-1], TASTES[0], watch.beat))
    if watch.best is not None and watch.best.over:
        offer(filled(house, lots, FULL, watch.beat))
    return sorted(found, key=lambda layout: layout.cost)


def _improve(house: House, starts: list[Layout], watch: Watch) -> None:
    warmth = (house.strips[0].repeat or min(shape.length for shape in house.shapes) // 4) / 3
    if len(house.item_shapes) > LARGE:
        return
    if len(house.item_shapes) > SMALL:
        improved(house, starts[0], STEPS_LARGE, warmth / 4, watch, seed=1)
        return
    for seed, start in enumerate(starts[:2], 1):
        improved(house, start, STEPS_SMALL, warmth, watch, seed)


def _items(house: House, order: Sequence[Shape]) -> list[int]:
    """The items of shapes in an order on the only strip."""
    free: dict[Shape, list[int]] = {}
    for item in reversed(range(len(house.item_shapes))):
        free.setdefault(house.shapes[house.item_shapes[item]], []).append(item)
    return [free[shape].pop() for shape in order]


def _whole(house: House, orders: list[list[int]]) -> list[list[int]]:
    """The orders without items of bundles that are not laid whole, as an interrupt may leave them."""
    laid = Counter(house.item_bundles[item] for order in orders for item in set(order))
    whole = {bundle for bundle, count in laid.items() if count == len(house.bundles[bundle])}
    return [[item for item in dict.fromkeys(order) if house.item_bundles[item] in whole] for order in orders]


def _completed(house: House, orders: list[list[int]], lots: list[list[int]]) -> list[list[int]]:
    """The orders with the bundles that found no room laid after them."""
    laid = {house.item_bundles[item] for order in orders for item in order}
    missing = [number for number in range(len(house.bundles)) if number not in laid]
    if missing:
        laid_on(house, orders, lots, missing)
    return orders


def _longest_first(house: House) -> list[list[int]]:
    lots = [sorted(lot, key=lambda strip: (-house.ends[strip], strip)) for lot in house.lots]
    return sorted(lots, key=lambda lot: (-sum(house.ends[strip] for strip in lot), lot))


def _bound(house: House) -> int:
    """No layout uses less; on a single strip the order without flaws is exact and often the better bound."""
    bound = least_used(house)
    if len(house.strips) == 1:
        shapes = [house.shapes[shape] for shape in house.item_shapes]
        bound = max(bound, house.strips[0].used, shortest_possible(house.strips[0], shapes))
    return bound


def _endless(house: House, layout: Layout) -> House:
    """The house with every strip long enough for what lies on it."""
    strips = tuple(replace(strip, end=(strip.end or 0) + layout.used) for strip in house.strips)
    return replace(house, strips=strips)
