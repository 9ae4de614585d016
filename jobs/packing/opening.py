"""How many rolls must be opened, and an instance of some of its rolls, so that the others stay whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from jobs.model.records import dataclass
from jobs.packing.bound import Corner, hulls, roomiest
from jobs.packing.instance import Instance, Kind, Layout, layout_of


def opened_at_least(instance: Instance) -> int:
    """A number of rolls that no layout with room for all can do with fewer of; those begun are open already."""
    return max(len(_chosen(instance, lines, needed)) for lines, needed in roomiest(instance))


def least_on_few(instance: Instance, most: int) -> int:
    """A use that no layout can beat that opens no more than so many rolls.

    What a line is worth is chosen, and every roll may gain by it what it can: those that gain most are opened, and none
    need gain less (the Lagrangian of the lines that are needed; any worth gives a bound, the best is looked for).
    """
    taken = sum(roll.used for roll in instance.rolls)
    begun = [bool(roll.used) for roll in instance.rolls]
    return taken + max(_dual(corners, needed, begun, most) for corners, needed in hulls(instance))


def _dual(corners: Sequence[Sequence[Corner]], needed: int, begun: Sequence[bool], most: int) -> int:
    worths = sorted(
        {Fraction(b.use - a.use, b.lines - a.lines) for hull in corners for a, b in pairwise(hull)} or {Fraction(0)}
    )
    fresh = max(0, most - sum(begun))

    def bound(worth: Fraction) -> int:
        use, lines = worth.numerator, worth.denominator
        gains = [min(corner.use * lines - corner.lines * use for corner in hull) for hull in corners]
        opened = sorted(gain for gain, is_open in zip(gains, begun, strict=True) if not is_open)[:fresh]
        sure = sum(gain for gain, is_open in zip(gains, begun, strict=True) if is_open)
        return -(-(use * needed + sure + sum(opened)) // lines)

    low, high = 0, len(worths) - 1
    while low < high:
        middle = (low + high) // 2
        if bound(worths[middle]) < bound(worths[middle + 1]):
            low = middle + 1
        else:
            high = middle
    return bound(worths[low])


def choices_of(instance: Instance, count: int) -> list[tuple[int, ...]]:
    """Sets of so many rolls with most room, those begun among them: the roomiest, and where there are fewer lots than
    rolls the roomiest lots whole."""
    lines = roomiest(instance)[0][0]
    begun = [number for number, roll in enumerate(instance.rolls) if roll.used]
    by_roll = sorted(set(range(len(lines))) - set(begun), key=lambda roll: (-lines[roll], roll))
    lots = sorted(instance.lots, key=lambda lot: (-sum(lines[roll] for roll in lot), lot))
    by_lot = [roll for lot in lots for roll in sorted(lot, key=lambda roll: (-lines[roll], roll)) if roll not in begun]
    count = max(count, len(begun))
    found = [tuple(sorted([*begun, *order][:count])) for order in (by_roll, by_lot)]
    return list(dict.fromkeys(found))


def _chosen(instance: Instance, lines: Sequence[int], needed: int) -> list[int]:
    """The fewest rolls that give so many lines, the begun ones first; all where all give too few."""
    order = sorted(range(len(lines)), key=lambda roll: (not instance.rolls[roll].used, -lines[roll], roll))
    begun = sum(1 for roll in instance.rolls if roll.used)
    given = 0
    for count, roll in enumerate(order):
        if given >= needed and count >= max(1, begun):
            return order[:count]
        given += lines[roll]
    return order


@dataclass(frozen=True)
class Some:
    """Some of the rolls of an instance, as an instance of their own."""

    whole: Instance
    rolls: tuple[int, ...]

    @cached_property
    def lots(self) -> dict[int, int]:
        """The numbers of the lots that have such a roll, with their numbers among these."""
        return {lot: number for number, lot in enumerate(dict.fromkeys(self.whole.lot_of[roll] for roll in self.rolls))}

    @cached_property
    def instance(self) -> Instance | None:
        """The instance; None where a bundle may come from none of these rolls."""
        kinds = [self._kind(kind) for kind in self.whole.bundle_kinds]
        if any(kind.allowed == () for kind in kinds):
            return None
        place = {roll: number for number, roll in enumerate(self.rolls)}
        lots = [tuple(place[roll] for roll in self.whole.lots[lot] if roll in place) for lot in self.lots]
        allowed = tuple(kind.allowed for kind in kinds) if self.whole.allowed else ()
        rolls = tuple(self.whole.rolls[roll] for roll in self.rolls)
        return replace(self.whole, rolls=rolls, lots=tuple(lots), allowed=allowed)

    def _kind(self, kind: Kind) -> Kind:
        if kind.allowed is None:
            return kind
        return replace(kind, allowed=tuple(self.lots[lot] for lot in kind.allowed if lot in self.lots))

    def widened(self, layout: Layout) -> Layout:
        """A layout on these rolls as one on all of them."""
        orders: list[tuple[int, ...]] = [()] * len(self.whole.rolls)
        for roll, order in zip(self.rolls, layout.orders, strict=True):
            orders[roll] = order
        return layout_of(self.whole, orders)


def spilled(instance: Instance, layout: Layout) -> list[list[int]]:
    """The orders without the bundles whose items lie last on rolls that are too short for what lies on them."""
    orders = [list(order) for order in layout.orders]
    shapes, bundles = instance.item_shapes, instance.item_bundles
    for roll, track in enumerate(instance.tracks):
        while orders[roll] and track.end([shapes[item] for item in orders[roll]]) > instance.ends[roll]:
            bundle = bundles[orders[roll][-1]]
            orders = [[item for item in order if bundles[item] != bundle] for order in orders]
    return orders


def exchanged(instance: Instance, layout: Layout) -> Layout:
    """The layout with all that lies on an open roll taken to a whole one, wherever that takes less cloth."""
    better = True
    while better:
        better = False
        for here, there in _exchanges(instance, layout):
            if _costs(instance, there, layout.orders[here]) < _costs(instance, here, layout.orders[here]):
                orders = list(layout.orders)
                orders[here], orders[there] = orders[there], orders[here]
                layout, better = layout_of(instance, orders), True
                break
    return layout


def _costs(instance: Instance, roll: int, order: Sequence[int]) -> int:
    """What a roll that is not begun counts for with these items on it."""
    return instance.cost(roll, instance.tracks[roll].end([instance.item_shapes[item] for item in order]))


def _exchanges(instance: Instance, layout: Layout) -> Iterable[tuple[int, int]]:
    """Open and whole rolls of which the one may give its items to the other."""
    bundles, lots = instance.item_bundles, instance.lot_of
    homes: dict[int, set[int]] = {}
    for roll, order in enumerate(layout.orders):
        for item in order:
            homes.setdefault(bundles[item], set()).add(roll)
    whole = [roll for roll, order in enumerate(layout.orders) if not order and not instance.rolls[roll].used]
    for here, order in enumerate(layout.orders):
        mine = {bundles[item] for item in order}
        if not mine or instance.rolls[here].used:
            continue
        alone = all(homes[bundle] == {here} for bundle in mine)
        for there in whole:
            if lots[here] == lots[there] or (
                alone and all(instance.bundle_kinds[bundle].may_go(lots[there]) for bundle in mine)
            ):
                yield here, there
