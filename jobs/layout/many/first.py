"""A first layout, found at once: every bundle on the first lot with room, the longest bundles first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from jobs.layout.many.house import House


def first_fit(house: House, lots: Sequence[Sequence[int]]) -> list[list[int]]:
    """Items for each strip, lots tried in the order given; what fits nowhere goes where least is missing."""
    orders: list[list[int]] = [[] for _ in house.strips]
    laid_on(house, orders, lots, range(len(house.bundles)))
    return orders


def laid_on(house: House, orders: list[list[int]], lots: Sequence[Sequence[int]], bundles: Iterable[int]) -> None:
    """Lay bundles after what lies on the strips already."""
    shapes, tracks = house.item_shapes, house.tracks
    ends = [track.end([shapes[item] for item in order]) for track, order in zip(tracks, orders, strict=True)]
    lengths = {
        number: sum(house.shapes[shape].length for shape in house.bundles[number])
        for number in range(len(house.bundles))
    }
    shortest = min(lengths.values())
    roomy = [list(lot) for lot in lots]
    for number in sorted(bundles, key=lambda number: (-lengths[number], number)):
        trials = []
        for lot in roomy:
            trial = _laid(house, ends, lot, number)
            over = sum(max(0, end - house.ends[strip]) for strip, (end, _) in trial.items())
            trials.append((over, trial))
            if not over:
                break
        if not trials:
            roomy = [list(lot) for lot in lots]
            trials = [
                (sum(max(0, end - house.ends[strip]) for strip, (end, _) in trial.items()), trial)
                for trial in (_laid(house, ends, lot, number) for lot in roomy)
            ]
        over, trial = min(trials, key=lambda entry: entry[0])
        for strip, (end, items) in trial.items():
            orders[strip] += items
            ends[strip] = end
        if not over:
            roomy = [lot for lot in roomy if any(house.ends[strip] - ends[strip] >= shortest // 8 for strip in lot)]


def _laid(house: House, ends: list[int], lot: Sequence[int], bundle: int) -> dict[int, tuple[int, list[int]]]:
    """Where the strips of a lot would end with the bundle, each item on the first strip with room or the last."""
    found: dict[int, tuple[int, list[int]]] = {}
    for item in house.bundle_items[bundle]:
        shape = house.item_shapes[item]
        for strip in lot:
            before, items = found.get(strip, (ends[strip], []))
            end = house.tracks[strip].start(shape, before) + house.tracks[strip].lengths[shape]
            if end <= house.ends[strip] or strip == lot[-1]:
                found[strip] = (end, [*items, item])
                break
    return found
