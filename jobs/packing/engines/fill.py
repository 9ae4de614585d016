"""Rolls filled one after another, in rounds: at first as far as cuts lie close, then with more cloth bare.

Rolls with many flaws come first, while there is most to choose from. How far each is worth using is told by the bound.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from jobs.packing.bound import worth_using
from jobs.packing.engines.pool import Pool
from jobs.packing.engines.sweep import Sweep, SweepParameters
from jobs.packing.instance import Instance
from jobs.packing.rolls import Roll, Shape

SWEEP = SweepParameters()
MANY, SWEEP_OF_MANY = 400, SweepParameters(width=6, near=2)
"""Items from which on less is tried for each: there is always one that lies close."""
MORE_BARE = (0.05, 0.1, 0.3, 1.0)
"""The shares of bare cloth of the later rounds."""
MOST = 1 << 52
"""Places along rolls up to which floating point counts units one by one."""


def fill(
    instance: Instance,
    lots: Sequence[Sequence[int]],
    orders: list[list[int]],
    beat: Callable[[], None] = lambda: None,
    parameters: SweepParameters | None = None,
) -> None:
    """Items for each roll, the rolls of each lot filled in the order given; what finds no room is laid nowhere.

    ``orders`` are empty at first and can be used whenever ``beat`` is called, before every roll; it may raise to stop.
    """
    parameters = parameters or (SWEEP if len(instance.item_shapes) <= MANY else SWEEP_OF_MANY)
    instance = _countable(instance)
    pool = Pool(instance)
    useful = worth_using(instance)
    density = {lot[0]: _density(instance, lot, useful) for lot in lots}
    for lot in sorted(lots, key=lambda lot: (-density[lot[0]], lot)):
        _extend(pool, [(roll, useful[roll]) for roll in lot if roll in useful], orders, parameters, beat)
    for bare in MORE_BARE:
        rooms = {lot[0]: sum(instance.ends[roll] - _end(instance, orders, roll) for roll in lot) for lot in lots}
        for lot in sorted(lots, key=lambda lot: (-rooms[lot[0]], lot)):
            _extend(pool, [(roll, instance.ends[roll]) for roll in lot], orders, replace(parameters, bare=bare), beat)


def _extend(
    pool: Pool,
    lot: Sequence[tuple[int, int]],
    orders: list[list[int]],
    parameters: SweepParameters,
    beat: Callable[[], None],
) -> None:
    """Lay more behind what lies on the rolls of a lot, up to an end of each."""
    instance = pool.instance
    begins = [_end(instance, orders, roll) for roll, _ in lot]
    rooms = [max(0, end - begin) for (_, end), begin in zip(lot, begins, strict=True)]
    if not pool.left.any() or sum(rooms) < int(pool.kind_lengths[pool.left > 0].min()):
        return
    if not pool.offer(instance.lot_of[lot[0][0]]):
        return
    owed = begun = np.zeros(0, np.int64)
    ways: dict[int, list[int]] = {}
    for place, ((roll, end), begin) in enumerate(zip(lot, begins, strict=True)):
        beat()
        if rooms[place]:
            after = sum(rooms[place + 1 :])
            swept = Sweep(pool, instance.tracks[roll], begin, end, after, parameters).best(owed, begun)
            owed, begun = swept.owed, swept.begun
            ways[roll] = swept.way
    pool.take(ways, orders)


def _end(instance: Instance, orders: list[list[int]], roll: int) -> int:
    return instance.tracks[roll].end([instance.item_shapes[item] for item in orders[roll]])


def _density(instance: Instance, lot: Sequence[int], useful: dict[int, int]) -> float:
    """Flaws for the cloth of a lot that is worth using."""
    flaws = sum(start < useful.get(roll, 0) for roll in lot for start, _ in instance.rolls[roll].barriers)
    return flaws / max(1, sum(useful.get(roll, 0) for roll in lot))


def _countable(instance: Instance) -> Instance:
    """The instance, or one of coarser units where its own are too fine for floating point; its items are the same.

    A layout is laid anew with exact lengths afterwards, so coarse ones can only make it a little longer.
    """
    bits = max(0, max(instance.ends).bit_length() - MOST.bit_length() + 1)
    if not bits:
        return instance
    shapes = tuple(Shape(-(-shape.length >> bits), shape.phase >> bits) for shape in instance.shapes)
    return replace(instance, shapes=shapes, rolls=tuple(_coarse(roll, bits) for roll in instance.rolls))


def _coarse(roll: Roll, bits: int) -> Roll:
    flaws, taken = (
        tuple((start >> bits, -(-end >> bits)) for start, end in intervals) for intervals in (roll.flaws, roll.taken)
    )
    repeat = max(1, roll.repeat >> bits) if roll.repeat else 0
    return Roll(repeat, roll.first_row >> bits, -(-roll.begin >> bits), flaws, (), (roll.end or 0) >> bits, taken)
