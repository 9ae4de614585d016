"""Random instances, and the least they can cost found by trying everything with the plainest arithmetic."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import permutations, product

from hypothesis import strategies as st

from jobs.packing.instance import Instance, Layout
from jobs.packing.rolls import Core, Roll, Shape, Spot, end_in_order


@st.composite
def instances(draw: st.DrawFn, most_bundles: int = 4, most_items: int = 5) -> Instance:
    """One to three short rolls, some in one lot, and a few bundles of one to three shapes."""
    repeat = draw(st.sampled_from([0, 1, 5, 12, 30]))
    parted = draw(st.booleans())
    shape = st.builds(Shape, st.integers(2, 25), st.integers(0, max(0, repeat - 1)))
    if parted:
        shape = st.builds(_cored, shape, st.integers(0, 5), st.integers(0, 5), st.integers(0, 9))
    bundles = draw(st.lists(st.lists(shape, min_size=1, max_size=3), min_size=1, max_size=most_bundles))
    while sum(map(len, bundles)) > most_items:
        bundles.pop()
    rolls = tuple(draw(_rolls(repeat, parted)) for _ in range(draw(st.integers(1, 3))))
    lots = draw(st.sampled_from([[(n,) for n in range(len(rolls))], [tuple(range(len(rolls)))]]))
    return instance_of(bundles or [[Shape(7, 0)]], rolls, lots)


def _cored(shape: Shape, first: int, last: int, near: int) -> Shape:
    """The shape with ends where a flaw does no harm, over six tenths of the width."""
    low = min(first, shape.length // 3)
    return Shape(shape.length, shape.phase, (Core(low, shape.length - min(last, shape.length // 3), near, near + 6),))


@st.composite
def _rolls(draw: st.DrawFn, repeat: int, parted: bool) -> Roll:
    at, flaws = 0, []
    for gap, size in draw(st.lists(st.tuples(st.integers(1, 30), st.integers(0, 4)), max_size=2)):
        flaws.append((at + gap, at + gap + size))
        at += gap + size
    first = draw(st.integers(0, max(0, repeat - 1)))
    spot = st.builds(
        lambda at, size, near: Spot(at, at + size, near, near + 2), *map(st.integers, (0, 0, 0), (80, 4, 13))
    )
    spots = tuple(sorted(draw(st.lists(spot, max_size=2)))) if parted else ()
    return Roll(repeat, first, draw(st.integers(0, 3)), tuple(flaws), spots, draw(st.integers(5, 90)))


def instance_of(bundles: list[list[Shape]], rolls: tuple[Roll, ...], lots: list[tuple[int, ...]]) -> Instance:
    """The instance with its shapes and bundles sorted."""
    shapes = sorted({shape for bundle in bundles for shape in bundle})
    numbers = {shape: number for number, shape in enumerate(shapes)}
    kinds = sorted(tuple(sorted(numbers[shape] for shape in bundle)) for bundle in bundles)
    return Instance(tuple(shapes), tuple(kinds), rolls, tuple(lots))


def least_cost(instance: Instance) -> tuple[int, int, int]:
    """The least (beyond the ends, opened, used) over every way to share out and order the items."""
    lot_of = {roll: number for number, lot in enumerate(instance.lots) for roll in lot}
    items = [(bundle, instance.shapes[shape]) for bundle, kind in enumerate(instance.bundles) for shape in kind]
    found = []
    for rolls in product(range(len(instance.rolls)), repeat=len(items)):
        lots: dict[int, set[int]] = {}
        for (bundle, _), roll in zip(items, rolls, strict=True):
            lots.setdefault(bundle, set()).add(lot_of[roll])
        if any(len(numbers) > 1 for numbers in lots.values()):
            continue
        over, used, opened = 0, 0, 0
        for number, roll in enumerate(instance.rolls):
            shapes = [shape for (_, shape), on in zip(items, rolls, strict=True) if on == number]
            if shapes:
                end = min(end_in_order(roll, order) for order in permutations(shapes))
                over, used, opened = over + max(0, end - (roll.end or 0)), used + end, opened + 1
        found.append((over, opened, used))
    return min(found)


def random_instance(
    seed: int,
    cuts: int,
    pieces: int,
    repeat: int,
    kind: str,
    *,
    level: bool = False,
    flaws: int = 4,
    slack: float = 1.06,
) -> Instance:
    """A instance of windows of many lengths, units of 1/16 in; ``repeat`` in inches.

    ``kind`` is ``whole`` (single panels), ``same`` or ``mirrored`` (pairs); ``level`` puts the row of every window at
    the same distance below its top. The pieces hold ``slack`` times the cloth, and repeats and flaws besides.
    """
    dice, unit = random.Random(seed), 16
    along = repeat * unit
    bundles: list[list[Shape]] = []
    while sum(map(len, bundles)) < cuts:
        length = dice.randrange(40 * 2, 120 * 2) * unit // 2
        below = dice.randrange(along) if along and not level else 0
        upright = Shape(length, -below % along if along else 0)
        turned = Shape(length, (below - length) % along if along else 0)
        bundles.append({"whole": [upright], "same": [upright] * 2, "mirrored": [upright, turned]}[kind])
    total = sum(shape.length for bundle in bundles for shape in bundle)
    total = int(total * slack) + cuts * along // (2 if level else 20) + pieces * (along + flaws * 5 * unit)
    shares = [dice.uniform(0.6, 1.4) for _ in range(pieces)]
    rolls = tuple(_long_roll(dice, int(total * share / sum(shares)), along, flaws, unit) for share in shares)
    return instance_of(bundles, rolls, [(number,) for number in range(pieces)])


def _long_roll(dice: random.Random, end: int, along: int, flaws: int, unit: int) -> Roll:
    merged: list[tuple[int, int]] = []
    for start in sorted(dice.randrange(end - 4 * unit) for _ in range(flaws)):
        stop = start + dice.randrange(unit // 2, 3 * unit)
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(stop, merged[-1][1]))
        else:
            merged.append((start, stop))
    return Roll(along, dice.randrange(along) if along else 0, unit, tuple(merged), (), end)


def _spoilt(shape: Shape, start: int, roll: Roll) -> Iterator[bool]:
    """For every flaw and every part of a cut that no flaw may meet, whether they meet."""
    for core in shape.cores or (Core(0, shape.length, 0, 0),):
        low, high = start + core.start, start + core.end
        for begin, end in roll.flaws:
            yield low < end and begin < high
        for spot in roll.spots:
            across = not shape.cores or (core.near < spot.far and spot.near < core.far)
            yield across and low < spot.end and spot.start < high


def assert_sound(instance: Instance, layout: Layout) -> None:
    """Every item lies once, every bundle in one lot, nothing overlaps or meets a flaw, and the sums are right."""
    assert sorted(item for order in layout.orders for item in order) == list(range(len(instance.item_shapes)))
    lots: dict[int, set[int]] = {}
    used = over = 0
    for roll, (track, order) in enumerate(zip(instance.tracks, layout.orders, strict=True)):
        at = track.begin
        for item in order:
            shape = instance.shapes[instance.item_shapes[item]]
            start = track.start(instance.item_shapes[item], at)
            assert start >= at
            assert not track.repeat or (start - track.roll.first_row - shape.phase) % track.repeat == 0
            assert not any(_spoilt(shape, start, track.roll))
            at = start + shape.length
            lots.setdefault(instance.item_bundles[item], set()).add(instance.lot_of[roll])
        if order:
            used, over = used + at, over + max(0, at - instance.ends[roll])
    assert (used, over) == (layout.used, layout.over)
    assert all(len(numbers) == 1 for numbers in lots.values())
