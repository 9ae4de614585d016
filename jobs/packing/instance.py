"""What is to be laid on which rolls, and what a layout of it costs."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cached_property

from jobs.model.records import dataclass
from jobs.packing.rolls import Roll, Shape, Track

Orders = tuple[tuple[int, ...], ...]
"""For each roll the items on it, in order along it."""


@dataclass(frozen=True)
class Kind:
    """What tells bundles apart: the numbers of their shapes, and of the lots they may come from (None: any)."""

    shapes: tuple[int, ...]
    allowed: tuple[int, ...] | None = None

    def may_go(self, lot: int) -> bool:
        """Whether such a bundle may come from the lot."""
        return self.allowed is None or lot in self.allowed


@dataclass(frozen=True)
class Instance:
    """Shapes, bundles of them that must come from one lot, rolls with their ends, and lots of rolls.

    ``bundles`` hold numbers of shapes; ``allowed`` the lots that each may come from, empty when all may come from any.
    An item is one shape of one bundle; items are numbered through the bundles. Shapes and bundles are sorted, so that
    the order of the windows of a job cannot matter. ``shares`` are the parts of the width that the bundles take, where
    a bound is asked for whatever lies side by side; they count for nothing else.
    """

    shapes: tuple[Shape, ...]
    bundles: tuple[tuple[int, ...], ...]
    rolls: tuple[Roll, ...]
    lots: tuple[tuple[int, ...], ...]
    allowed: tuple[tuple[int, ...] | None, ...] = ()
    shares: tuple[Fraction, ...] = ()

    @cached_property
    def bundle_kinds(self) -> tuple[Kind, ...]:
        """What each bundle is like."""
        allowed = self.allowed or (None,) * len(self.bundles)
        return tuple(Kind(bundle, lots) for bundle, lots in zip(self.bundles, allowed, strict=True))

    @cached_property
    def kinds(self) -> dict[Kind, list[int]]:
        """The different bundles, and the numbers of those that are alike."""
        found: dict[Kind, list[int]] = {}
        for number, kind in enumerate(self.bundle_kinds):
            found.setdefault(kind, []).append(number)
        return found

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
        """Each roll, ready for a search over the shapes."""
        first = Track(self.rolls[0], self.shapes)
        return (first, *(Track(roll, self.shapes, first) for roll in self.rolls[1:]))

    @cached_property
    def lot_of(self) -> tuple[int, ...]:
        """The number of the lot of each roll."""
        lots = {roll: number for number, lot in enumerate(self.lots) for roll in lot}
        return tuple(lots[number] for number in range(len(self.rolls)))

    @cached_property
    def ends(self) -> tuple[int, ...]:
        """Where each roll ends."""
        return tuple(_end(roll) for roll in self.rolls)

    @cached_property
    def opening(self) -> int:
        """What opening a roll counts for, in units used: more than any use, so that a roll that need not be opened
        stays whole."""
        repeat = self.rolls[0].repeat
        taken = sum(roll.used for roll in self.rolls)
        most = sum(self.shapes[number].length + repeat for number in self.item_shapes)
        flaws = sum(end for roll in self.rolls for _, end in roll.flaws)
        spots = sum(spot.end for roll in self.rolls for spot in roll.spots)
        return most + flaws + taken + spots + sum(self.ends) + sum(roll.begin for roll in self.rolls) + 1

    @cached_property
    def penalty(self) -> int:
        """What one unit beyond the end of a roll counts for: more than all rolls opened."""
        return (len(self.rolls) + 1) * self.opening

    def cost(self, roll: int, end: int) -> int:
        """What a roll laid up to ``end`` counts for: beyond its end, then opened, then used."""
        end = max(end, self.rolls[roll].used)
        over = end - self.ends[roll]
        return end + self.opening + (over * self.penalty if over > 0 else 0)


@dataclass(frozen=True)
class Layout:
    """Orders of items with what they come to, in units."""

    orders: Orders
    used: int
    over: int
    opened: int
    cost: int


def layout_of(instance: Instance, orders: Sequence[Sequence[int]]) -> Layout:
    """The orders with each item as early as it can lie."""
    shapes = instance.item_shapes
    used, over, opened, cost = 0, 0, 0, 0
    for roll, order in enumerate(orders):
        taken = instance.rolls[roll].used
        if order or taken:
            end = max(taken, instance.tracks[roll].end([shapes[item] for item in order]) if order else 0)
            used, opened, cost = used + end, opened + 1, cost + instance.cost(roll, end)
            over += max(0, end - instance.ends[roll])
    return Layout(tuple(tuple(order) for order in orders), used, over, opened, cost)


def _end(roll: Roll) -> int:
    if roll.end is None:
        raise ValueError("a roll of a instance must have an end")
    return roll.end
