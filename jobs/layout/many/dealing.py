"""Real bundles dealt out for what a search laid by kind and shape."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.layout.many.house import House

Laid = Iterable[tuple[int, int, int]]
"""Strip, kind and shape of each entry, in the order they lie."""


def deal(house: House, free: list[list[int]], laid: Laid, orders: list[list[int]]) -> None:
    """Put the items of bundles taken from ``free`` (by kind) into ``orders``; a bundle not laid whole stays free."""
    shapes, bundles = house.item_shapes, house.item_bundles
    begun: dict[int, list[list[int]]] = {}
    placed: list[tuple[int, int]] = []
    for strip, kind, shape in laid:
        rests = begun.setdefault(kind, [])
        rest = next((rest for rest in rests if any(shapes[item] == shape for item in rest)), None)
        if rest is None:
            rest = list(house.bundle_items[free[kind].pop(0)])
            rests.append(rest)
        item = next(item for item in rest if shapes[item] == shape)
        rest.remove(item)
        placed.append((strip, item))
    broken = {bundles[rest[0]]: kind for kind, rests in begun.items() for rest in rests if rest}
    for strip, item in placed:
        if bundles[item] not in broken:
            orders[strip].append(item)
    for bundle, kind in sorted(broken.items()):
        free[kind].insert(0, bundle)
