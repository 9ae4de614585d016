"""Random houses, and the least they can cost found by trying everything with the plainest arithmetic."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import permutations, product

from hypothesis import strategies as st

from jobs.layout.many.house import House, Layout
from jobs.layout.placing import Core, Shape, Spot, Strip, end_in_order


@st.composite
def houses(draw: st.DrawFn, most_bundles: int = 4, most_items: int = 5) -> House:
    """One to three short strips, some in one lot, and a few bundles of one to three shapes."""
    repeat = draw(st.sampled_from([0, 1, 5, 12, 30]))
    parted = draw(st.booleans())
    shape = st.builds(Shape, st.integers(2, 25), st.integers(0, max(0, repeat - 1)))
    if parted:
        shape = st.builds(_cored, shape, st.integers(0, 5), st.integers(0, 5), st.integers(0, 9))
    bundles = draw(st.lists(st.lists(shape, min_size=1, max_size=3), min_size=1, max_size=most_bundles))
    while sum(map(len, bundles)) > most_items:
        bundles.pop()
    strips = tuple(draw(_strips(repeat, parted)) for _ in range(draw(st.integers(1, 3))))
    lots = draw(st.sampled_from([[(n,) for n in range(len(strips))], [tuple(range(len(strips)))]]))
    return house_of(bundles or [[Shape(7, 0)]], strips, lots)


def _cored(shape: Shape, first: int, last: int, near: int) -> Shape:
    """The shape with ends where a flaw does no harm, over six tenths of the width."""
    low = min(first, shape.length // 3)
    return Shape(shape.length, shape.residue, (Core(low, shape.length - min(last, shape.length // 3), near, near + 6),))


@st.composite
def _strips(draw: st.DrawFn, repeat: int, parted: bool) -> Strip:
    at, flaws = 0, []
    for gap, size in draw(st.lists(st.tuples(st.integers(1, 30), st.integers(0, 4)), max_size=2)):
        flaws.append((at + gap, at + gap + size))
        at += gap + size
    first = draw(st.integers(0, max(0, repeat - 1)))
    spot = st.builds(
        lambda at, size, near: Spot(at, at + size, near, near + 2), *map(st.integers, (0, 0, 0), (80, 4, 13))
    )
    spots = tuple(sorted(draw(st.lists(spot, max_size=2)))) if parted else ()
    return Strip(repeat, first, draw(st.integers(0, 3)), tuple(flaws), spots, draw(st.integers(5, 90)))


def house_of(bundles: list[list[Shape]], strips: tuple[Strip, ...], lots: list[tuple[int, ...]]) -> House:
    """The house with its shapes and bundles sorted."""
    shapes = sorted({shape for bundle in bundles for shape in bundle})
    numbers = {shape: number for number, shape in enumerate(shapes)}
    kinds = sorted(tuple(sorted(numbers[shape] for shape in bundle)) for bundle in bundles)
    return House(tuple(shapes), tuple(kinds), strips, tuple(lots))


def least_cost(house: House) -> tuple[int, int, int]:
    """The least (beyond the ends, used, opened) over every way to share out and order the items."""
    lot_of = {strip: number for number, lot in enumerate(house.lots) for strip in lot}
    items = [(bundle, house.shapes[shape]) for bundle, kind in enumerate(house.bundles) for shape in kind]
    found = []
    for strips in product(range(len(house.strips)), repeat=len(items)):
        lots: dict[int, set[int]] = {}
        for (bundle, _), strip in zip(items, strips, strict=True):
            lots.setdefault(bundle, set()).add(lot_of[strip])
        if any(len(numbers) > 1 for numbers in lots.values()):
            continue
        over, used, opened = 0, 0, 0
        for number, strip in enumerate(house.strips):
            shapes = [shape for (_, shape), on in zip(items, strips, strict=True) if on == number]
            if shapes:
                end = min(end_in_order(strip, order) for order in permutations(shapes))
                over, used, opened = over + max(0, end - (strip.end or 0)), used + end, opened + 1
        found.append((over, used, opened))
    return min(found)


def random_house(
    seed: int,
    cuts: int,
    pieces: int,
    repeat: int,
    kind: str,
    *,
    level: bool = False,
    flaws: int = 4,
    slack: float = 1.06,
) -> House:
    """A house of windows of many lengths, grains of 1/16 in; ``repeat`` in inches.

    ``kind`` is ``whole`` (single panels), ``same`` or ``mirrored`` (pairs); ``level`` puts the row of every window at
    the same distance below its top. The pieces hold ``slack`` times the cloth, and repeats and flaws besides.
    """
    dice, grain = random.Random(seed), 16
    along = repeat * grain
    bundles: list[list[Shape]] = []
    while sum(map(len, bundles)) < cuts:
        length = dice.randrange(40 * 2, 120 * 2) * grain // 2
        below = dice.randrange(along) if along and not level else 0
        upright = Shape(length, -below % along if along else 0)
        turned = Shape(length, (below - length) % along if along else 0)
        bundles.append({"whole": [upright], "same": [upright] * 2, "mirrored": [upright, turned]}[kind])
    total = sum(shape.length for bundle in bundles for shape in bundle)
    total = int(total * slack) + cuts * along // (2 if level else 20) + pieces * (along + flaws * 5 * grain)
    shares = [dice.uniform(0.6, 1.4) for _ in range(pieces)]
    strips = tuple(_long_strip(dice, int(total * share / sum(shares)), along, flaws, grain) for share in shares)
    return house_of(bundles, strips, [(number,) for number in range(pieces)])


def _long_strip(dice: random.Random, end: int, along: int, flaws: int, grain: int) -> Strip:
    merged: list[tuple[int, int]] = []
    for start in sorted(dice.randrange(end - 4 * grain) for _ in range(flaws)):
        stop = start + dice.randrange(grain // 2, 3 * grain)
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(stop, merged[-1][1]))
        else:
            merged.append((start, stop))
    return Strip(along, dice.randrange(along) if along else 0, grain, tuple(merged), (), end)


def _spoilt(shape: Shape, start: int, strip: Strip) -> Iterator[bool]:
    """For every flaw and every part of a cut that no flaw may meet, whether they meet."""
    for core in shape.cores or (Core(0, shape.length, 0, 0),):
        low, high = start + core.start, start + core.end
        for begin, end in strip.flaws:
            yield low < end and begin < high
        for spot in strip.spots:
            across = not shape.cores or (core.near < spot.far and spot.near < core.far)
            yield across and low < spot.end and spot.start < high


def assert_sound(house: House, layout: Layout) -> None:
    """Every item lies once, every bundle in one lot, nothing overlaps or meets a flaw, and the sums are right."""
    assert sorted(item for order in layout.orders for item in order) == list(range(len(house.item_shapes)))
    lots: dict[int, set[int]] = {}
    used = over = 0
    for strip, (track, order) in enumerate(zip(house.tracks, layout.orders, strict=True)):
        at = track.begin
        for item in order:
            shape = house.shapes[house.item_shapes[item]]
            start = track.start(house.item_shapes[item], at)
            assert start >= at
            assert not track.repeat or (start - track.strip.first_row - shape.residue) % track.repeat == 0
            assert not any(_spoilt(shape, start, track.strip))
            at = start + shape.length
            lots.setdefault(house.item_bundles[item], set()).add(house.lot_of[strip])
        if order:
            used, over = used + at, over + max(0, at - house.ends[strip])
    assert (used, over) == (layout.used, layout.over)
    assert all(len(numbers) == 1 for numbers in lots.values())
