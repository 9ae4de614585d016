"""A first layout, found at once: every bundle on the first lot with room, the longest bundles first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain, islice

from jobs.packing.instance import Instance

MOST_TRIED = 20
"""Lots with room that are tried for a bundle, and the roomiest after them."""


def first_fit(instance: Instance, lots: Sequence[Sequence[int]]) -> list[list[int]]:
    """Items for each roll, lots tried in the order given; what fits nowhere goes where least is missing."""
    orders: list[list[int]] = [[] for _ in instance.rolls]
    laid_on(instance, orders, lots, range(len(instance.bundles)))
    return orders


def completed(instance: Instance, orders: list[list[int]], lots: Sequence[Sequence[int]]) -> list[list[int]]:
    """The orders with the bundles that found no room laid after them."""
    laid = {instance.item_bundles[item] for order in orders for item in order}
    missing = [number for number in range(len(instance.bundles)) if number not in laid]
    if missing:
        laid_on(instance, orders, lots, missing)
    return orders


def laid_on(instance: Instance, orders: list[list[int]], lots: Sequence[Sequence[int]], bundles: Iterable[int]) -> None:
    """Lay bundles after what lies on the rolls already."""
    shapes, tracks = instance.item_shapes, instance.tracks
    ends = [track.end([shapes[item] for item in order]) for track, order in zip(tracks, orders, strict=True)]
    lengths = [sum(instance.shapes[shape].length for shape in kind) for kind in instance.bundles]
    rooms = [sum(max(0, instance.ends[roll] - ends[roll]) for roll in lot) for lot in lots]
    for number in sorted(bundles, key=lambda number: (-lengths[number], number)):
        length, kind = lengths[number], instance.bundle_kinds[number]
        open_ = [place for place, lot in enumerate(lots) if kind.may_go(instance.lot_of[lot[0]])]
        trials = []
        places = (place for place in open_ if rooms[place] >= length)
        for place in chain(islice(places, MOST_TRIED), [max(open_, key=rooms.__getitem__)]):
            over, trial = _tried(instance, ends, lots[place], number)
            trials.append((over, place, trial))
            if not over:
                break
        if len(lots) <= MOST_TRIED and trials[-1][0]:
            for place in open_:
                over, trial = _tried(instance, ends, lots[place], number)
                trials.append((over, place, trial))
        _, place, trial = min(trials, key=lambda entry: entry[:2])
        for roll, (end, items) in trial.items():
            orders[roll] += items
            ends[roll] = end
        rooms[place] = sum(max(0, instance.ends[roll] - ends[roll]) for roll in lots[place])


Trial = dict[int, tuple[int, list[int]]]
"""For each roll of a lot that gets something, where it would end and what it would get."""


def _tried(instance: Instance, ends: list[int], lot: Sequence[int], number: int) -> tuple[int, Trial]:
    """How far a bundle would reach beyond the ends of a lot's rolls, and how it would lie."""
    trial = _laid(instance, ends, lot, number)
    return sum(max(0, end - instance.ends[roll]) for roll, (end, _) in trial.items()), trial


def _laid(instance: Instance, ends: list[int], lot: Sequence[int], bundle: int) -> Trial:
    """Where the rolls of a lot would end with the bundle, each item on the first roll with room or the last."""
    found: Trial = {}
    for item in instance.bundle_items[bundle]:
        shape = instance.item_shapes[item]
        for roll in lot:
            before, items = found.get(roll, (ends[roll], []))
            end = instance.tracks[roll].start(shape, before) + instance.tracks[roll].lengths[shape]
            if end <= instance.ends[roll] or roll == lot[-1]:
                found[roll] = (end, [*items, item])
                break
    return found
