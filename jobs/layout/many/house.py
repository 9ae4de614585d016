"""What is to be laid on which strips, and what a layout of it costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from jobs.layout.placing import Shape, Strip, Track

Orders = tuple[tuple[int, ...], ...]
"""For each strip the items on it, in order along it."""


@dataclass(frozen=True)
class House:
    """Shapes, bundles of them that must come from one lot, strips with their ends, and lots of strips.

    ``bundles`` hold numbers of shapes. An item is one shape of one bundle; items are numbered through the bundles.
    Shapes and bundles are sorted, so that the order of the windows of a job cannot matter.
    """

    shapes: tuple[Shape, ...]
    bundles: tuple[tuple[int, ...], ...]
    strips: tuple[Strip, ...]
    lots: tuple[tuple[int, ...], ...]

    @cached_property
    def item_shapes(self) -> tuple[int, ...]:
        """The number of the shape of each item."""
        return tuple(shape for bundle in self.bundles for shape in bundle)

    @cached_property
    def item_bundles(self) -> tuple[int, ...]:
        """The number of the bundle of each item."""
        return tuple(number for number, bundle in enumerate(self.bundles) for _ in bundle)

    @cached_property
    def bundle_items(self) -> tuple[tuple[int, ...], ...]:
        """The items of each bundle."""
        found, at = [], 0
        for bundle in self.bundles:
            found.append(tuple(range(at, at + len(bundle))))
            at += len(bundle)
        return tuple(found)

    @cached_property
    def tracks(self) -> tuple[Track, ...]:
        """Each strip, ready for a search over the shapes."""
        first = Track(self.strips[0], self.shapes)
        return (first, *(Track(strip, self.shapes, first) for strip in self.strips[1:]))

    @cached_property
    def lot_of(self) -> tuple[int, ...]:
        """The number of the lot of each strip."""
        lots = {strip: number for number, lot in enumerate(self.lots) for strip in lot}
        return tuple(lots[number] for number in range(len(self.strips)))

    @cached_property
    def ends(self) -> tuple[int, ...]:
        """Where each strip ends."""
        return tuple(_end(strip) for strip in self.strips)

    @cached_property
    def weight(self) -> int:
        """What one grain used counts for, so that fewer strips decide only between equal uses."""
        return len(self.strips) + 1

    @cached_property
    def penalty(self) -> int:
        """What one grain beyond the end of a strip counts for: more than any use."""
        repeat = self.strips[0].repeat
        taken = sum(strip.used for strip in self.strips)
        most = sum(self.shapes[number].length + repeat for number in self.item_shapes)
        flaws = sum(end for strip in self.strips for _, end in strip.flaws)
        spots = sum(spot.end for strip in self.strips for spot in strip.spots)
        return self.weight * (
            most + flaws + taken + spots + sum(self.ends) + sum(strip.begin for strip in self.strips) + 1
        )

    def cost(self, strip: int, end: int) -> int:
        """What a strip laid up to ``end`` counts for: beyond its end, then used, then opened."""
        end = max(end, self.strips[strip].used)
        over = end - self.ends[strip]
        return end * self.weight + 1 + (over * self.penalty if over > 0 else 0)


@dataclass(frozen=True)
class Layout:
    """Orders of items with what they come to, in grains."""

    orders: Orders
    used: int
    over: int
    opened: int
    cost: int


def layout_of(house: House, orders: Sequence[Sequence[int]]) -> Layout:
    """The orders with each item as early as it can lie."""
    shapes = house.item_shapes
    used, over, opened, cost = 0, 0, 0, 0
    for strip, order in enumerate(orders):
        taken = house.strips[strip].used
        if order or taken:
            end = max(taken, house.tracks[strip].end([shapes[item] for item in order]) if order else 0)
            used, opened, cost = used + end, opened + 1, cost + house.cost(strip, end)
            over += max(0, end - house.ends[strip])
    return Layout(tuple(tuple(order) for order in orders), used, over, opened, cost)


def _end(strip: Strip) -> int:
    if strip.end is None:
        raise ValueError("a strip of a house must have an end")
    return strip.end
