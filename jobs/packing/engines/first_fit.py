"""A first layout, found at once: every bundle on the first lot with room, the longest bundles first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain, islice

from jobs.model.records import dataclass
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
        open_: Sequence[int] = range(len(lots))
        if kind.allowed is not None:
            open_ = [place for place, lot in enumerate(lots) if kind.may_go(instance.lot_of[lot[0]])]
        trials = []
        places = (place for place in open_ if rooms[place] >= length)
        for place in chain(islice(places, MOST_TRIED), [max(open_, key=rooms.__getitem__)]):
            trials.append(_tried(instance, ends, lots, place, number))
            if not trials[-1].over:
                break
        if len(lots) <= MOST_TRIED and trials[-1].over:
            trials += (_tried(instance, ends, lots, place, number) for place in open_)
        best = min(trials, key=lambda trial: (trial.over, trial.place))
        for roll, items in best.items.items():
            orders[roll] += items
            ends[roll] = best.ends[roll]
        rooms[best.place] = sum(max(0, instance.ends[roll] - ends[roll]) for roll in lots[best.place])


@dataclass(frozen=True)
class _Trial:
    """A bundle on a lot: how far it reaches beyond the ends, what each roll gets, and where that ends then."""

    place: int
    over: int
    items: dict[int, list[int]]
    ends: dict[int, int]


def _tried(instance: Instance, ends: list[int], lots: Sequence[Sequence[int]], place: int, bundle: int) -> _Trial:
    """Each item of the bundle on the first roll of the lot with room, or the last."""
    items: dict[int, list[int]] = {}
    then: dict[int, int] = {}
    for item in instance.bundle_items[bundle]:
        shape = instance.item_shapes[item]
        for roll in lots[place]:
            track = instance.tracks[roll]
            end = track.start(shape, then.get(roll, ends[roll])) + track.lengths[shape]
            if end <= instance.ends[roll] or roll == lots[place][-1]:
                items.setdefault(roll, []).append(item)
                then[roll] = end
                break
    over = sum(max(0, end - instance.ends[roll]) for roll, end in then.items())
    return _Trial(place, over, items, then)
