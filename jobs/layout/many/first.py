"""A first layout, found at once: every bundle on the first lot with room, the longest bundles first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain, islice

from jobs.layout.many.house import House

MOST_TRIED = 20
"""Lots with room that are tried for a bundle, and the roomiest after them."""


def first_fit(house: House, lots: Sequence[Sequence[int]]) -> list[list[int]]:
    """Items for each strip, lots tried in the order given; what fits nowhere goes where least is missing."""
    orders: list[list[int]] = [[] for _ in house.strips]
    laid_on(house, orders, lots, range(len(house.bundles)))
    return orders


def laid_on(house: House, orders: list[list[int]], lots: Sequence[Sequence[int]], bundles: Iterable[int]) -> None:
    """Lay bundles after what lies on the strips already."""
    shapes, tracks = house.item_shapes, house.tracks
    ends = [track.end([shapes[item] for item in order]) for track, order in zip(tracks, orders, strict=True)]
    lengths = [sum(house.shapes[shape].length for shape in kind) for kind in house.bundles]
    rooms = [sum(max(0, house.ends[strip] - ends[strip]) for strip in lot) for lot in lots]
    for number in sorted(bundles, key=lambda number: (-lengths[number], number)):
        length = lengths[number]
        trials = []
        places = (place for place, room in enumerate(rooms) if room >= length)
        for place in chain(islice(places, MOST_TRIED), [max(range(len(lots)), key=rooms.__getitem__)]):
            over, trial = _tried(house, ends, lots[place], number)
            trials.append((over, place, trial))
            if not over:
                break
        if len(lots) <= MOST_TRIED and trials[-1][0]:
            for place, lot in enumerate(lots):
                over, trial = _tried(house, ends, lot, number)
                trials.append((over, place, trial))
        _, place, trial = min(trials, key=lambda entry: entry[:2])
        for strip, (end, items) in trial.items():
            orders[strip] += items
            ends[strip] = end
        rooms[place] = sum(max(0, house.ends[strip] - ends[strip]) for strip in lots[place])


Trial = dict[int, tuple[int, list[int]]]
"""For each strip of a lot that gets something, where it would end and what it would get."""


def _tried(house: House, ends: list[int], lot: Sequence[int], number: int) -> tuple[int, Trial]:
    """How far a bundle would reach beyond the ends of a lot's strips, and how it would lie."""
    trial = _laid(house, ends, lot, number)
    return sum(max(0, end - house.ends[strip]) for strip, (end, _) in trial.items()), trial


def _laid(house: House, ends: list[int], lot: Sequence[int], bundle: int) -> Trial:
    """Where the strips of a lot would end with the bundle, each item on the first strip with room or the last."""
    found: Trial = {}
    for item in house.bundle_items[bundle]:
        shape = house.item_shapes[item]
        for strip in lot:
            before, items = found.get(strip, (ends[strip], []))
            end = house.tracks[strip].start(shape, before) + house.tracks[strip].lengths[shape]
            if end <= house.ends[strip] or strip == lot[-1]:
                found[strip] = (end, [*items, item])
                break
    return found
