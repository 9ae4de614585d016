"""The rolls on which most is wasted emptied and filled anew, with as many others so that there is something to choose.

Rolls filled one after another grow worse towards the last, for which little is left to choose from. So what lies on
the worst and on some others is taken off and laid again, and kept where that takes less (ruin and recreate: G. Schrimpf
and others, *Record breaking optimization results using the ruin and recreate principle*, Journal of Computational
Physics 159, 2000).
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property

from jobs.model.records import dataclass
from jobs.packing.bound import wasted
from jobs.packing.engines.fill import SWEEP_OF_MANY, fill
from jobs.packing.engines.first_fit import completed
from jobs.packing.instance import Instance, Layout, layout_of

WORST, OTHERS = 6, 6
"""Lots that are emptied at a time: those on which most is wasted, and some of the others."""


def refilled(instance: Instance, layout: Layout, seed: int, beat: Callable[[], None] = lambda: None) -> Layout:
    """The layout with some of its rolls filled anew, for better or worse; ``beat`` may raise to stop.

    ``seed`` chooses those that are emptied besides the worst.
    """
    waste = wasted(instance, layout.orders)
    by_lot = {
        lot: sum(waste.get(roll, 0) for roll in rolls)
        for lot, rolls in enumerate(instance.lots)
        if any(layout.orders[roll] for roll in rolls)
    }
    worst_first = sorted(by_lot, key=lambda lot: (-by_lot[lot], lot))
    worst, others = worst_first[:WORST], worst_first[WORST:]
    chosen = random.Random(seed).sample(others, min(OTHERS, len(others)))
    part = Part(instance, layout, tuple(sorted([*worst, *chosen])))
    ends = part.instance.ends
    orders: list[list[int]] = [[] for _ in part.rolls]
    lots = sorted(part.instance.lots, key=lambda lot: (-sum(ends[roll] for roll in lot), lot))
    fill(part.instance, lots, orders, beat, SWEEP_OF_MANY)
    return part.widened(completed(part.instance, orders, lots))


@dataclass(frozen=True)
class Part:
    """Some lots of an instance with what a layout has laid on them, as an instance of its own."""

    whole: Instance
    layout: Layout
    lots: tuple[int, ...]

    @cached_property
    def rolls(self) -> tuple[int, ...]:
        """The rolls of these lots."""
        return tuple(roll for lot in self.lots for roll in self.whole.lots[lot])

    @cached_property
    def bundles(self) -> tuple[int, ...]:
        """The bundles that lie there."""
        return tuple(
            sorted({self.whole.item_bundles[item] for roll in self.rolls for item in self.layout.orders[roll]})
        )

    @cached_property
    def instance(self) -> Instance:
        """The instance; its items are numbered anew, ``widened`` knows them."""
        whole, place = self.whole, {roll: number for number, roll in enumerate(self.rolls)}
        numbers = {lot: number for number, lot in enumerate(self.lots)}

        def allowed(bundle: int) -> tuple[int, ...] | None:
            kind = whole.bundle_kinds[bundle]
            if kind.allowed is None:
                return None
            return tuple(numbers[lot] for lot in kind.allowed if lot in numbers)

        return replace(
            whole,
            bundles=tuple(whole.bundles[bundle] for bundle in self.bundles),
            rolls=tuple(whole.rolls[roll] for roll in self.rolls),
            lots=tuple(tuple(place[roll] for roll in whole.lots[lot]) for lot in self.lots),
            allowed=tuple(allowed(bundle) for bundle in self.bundles) if whole.allowed else (),
            shares=tuple(whole.shares[bundle] for bundle in self.bundles) if whole.shares else (),
        )

    def widened(self, orders: Sequence[Sequence[int]]) -> Layout:
        """Orders of the items of the part as a layout of the whole, the other rolls as they were."""
        items = [item for bundle in self.bundles for item in self.whole.bundle_items[bundle]]
        found = [list(order) for order in self.layout.orders]
        for roll, order in zip(self.rolls, orders, strict=True):
            found[roll] = [items[item] for item in order]
        return layout_of(self.whole, found)
