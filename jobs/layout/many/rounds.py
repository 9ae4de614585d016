"""Strips filled one after another, in rounds: at first as far as cuts lie close, then with more cloth bare.

Strips with many flaws come first, while there is most to choose from. How far each is worth using is told by the bound.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from jobs.layout.many.bound import worth_using
from jobs.layout.many.house import House
from jobs.layout.many.shelf import Shelf
from jobs.layout.many.sweeping import Sweep, Taste
from jobs.layout.placing import Shape, Strip

TASTE = Taste()
MORE_BARE = (0.05, 0.1, 0.3, 1.0)
"""The shares of bare cloth of the later rounds."""
MOST = 1 << 52
"""Places along strips up to which floating point counts grains one by one."""


def filled_in_rounds(house: House, lots: Sequence[Sequence[int]], taste: Taste = TASTE) -> list[list[int]]:
    """Items for each strip, the strips of each lot filled in the order given; what finds no room is laid nowhere."""
    orders: list[list[int]] = [[] for _ in house.strips]
    fill_in_rounds(house, lots, orders, taste=taste)
    return orders


def fill_in_rounds(
    house: House,
    lots: Sequence[Sequence[int]],
    orders: list[list[int]],
    beat: Callable[[], None] = lambda: None,
    taste: Taste = TASTE,
) -> None:
    """As ``filled_in_rounds``, into ``orders`` that are empty at first and can be used whenever ``beat`` is called.

    ``beat`` is called before every strip and may raise to stop.
    """
    house = _countable(house)
    shelf = Shelf(house)
    useful = worth_using(house)
    density = {lot[0]: _density(house, lot, useful) for lot in lots}
    for lot in sorted(lots, key=lambda lot: (-density[lot[0]], lot)):
        _extend(shelf, [(strip, useful[strip]) for strip in lot if strip in useful], orders, taste, beat)
    for bare in MORE_BARE:
        rooms = {lot[0]: sum(house.ends[strip] - _end(house, orders, strip) for strip in lot) for lot in lots}
        for lot in sorted(lots, key=lambda lot: (-rooms[lot[0]], lot)):
            _extend(shelf, [(strip, house.ends[strip]) for strip in lot], orders, replace(taste, bare=bare), beat)


def _extend(
    shelf: Shelf, lot: Sequence[tuple[int, int]], orders: list[list[int]], taste: Taste, beat: Callable[[], None]
) -> None:
    """Lay more behind what lies on the strips of a lot, up to an end of each."""
    house = shelf.house
    begins = [_end(house, orders, strip) for strip, _ in lot]
    rooms = [max(0, end - begin) for (_, end), begin in zip(lot, begins, strict=True)]
    if not shelf.left.any() or sum(rooms) < int(shelf.kind_lengths[shelf.left > 0].min()):
        return
    owed = begun = np.zeros(0, np.int64)
    ways: list[tuple[int, list[int]]] = []
    for place, ((strip, end), begin) in enumerate(zip(lot, begins, strict=True)):
        beat()
        if rooms[place]:
            after = sum(rooms[place + 1 :])
            swept = Sweep(shelf, house.tracks[strip], begin, end, after, taste).best(owed, begun)
            owed, begun = swept.owed, swept.begun
            ways.append((strip, swept.way))
    shelf.take(ways, orders)
    shelf.refresh()


def _end(house: House, orders: list[list[int]], strip: int) -> int:
    return house.tracks[strip].end([house.item_shapes[item] for item in orders[strip]])


def _density(house: House, lot: Sequence[int], useful: dict[int, int]) -> float:
    """Flaws for the cloth of a lot that is worth using."""
    flaws = sum(start < useful.get(strip, 0) for strip in lot for start, _ in house.strips[strip].barriers)
    return flaws / max(1, sum(useful.get(strip, 0) for strip in lot))


def _countable(house: House) -> House:
    """The house, or one of coarser grains where its own are too fine for floating point; its items are the same.

    A layout is laid anew with exact lengths afterwards, so coarse ones can only make it a little longer.
    """
    bits = max(0, max(house.ends).bit_length() - MOST.bit_length() + 1)
    if not bits:
        return house
    shapes = tuple(Shape(-(-shape.length >> bits), shape.residue >> bits) for shape in house.shapes)
    return replace(house, shapes=shapes, strips=tuple(_coarse(strip, bits) for strip in house.strips))


def _coarse(strip: Strip, bits: int) -> Strip:
    flaws, taken = (
        tuple((start >> bits, -(-end >> bits)) for start, end in intervals) for intervals in (strip.flaws, strip.taken)
    )
    repeat = max(1, strip.repeat >> bits) if strip.repeat else 0
    return Strip(repeat, strip.first_row >> bits, -(-strip.begin >> bits), flaws, (), (strip.end or 0) >> bits, taken)
