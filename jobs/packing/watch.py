"""What a long search tells while it runs, and the best it has so far."""

from __future__ import annotations

import time
from collections.abc import Callable

from jobs.model.records import dataclass
from jobs.packing.instance import Layout

FIRST_AFTER, EVERY = 1.0, 0.25
"""Seconds before the first word, and between two."""


@dataclass(frozen=True)
class Progress:
    """How far a search has come, in inches: what the best layout so far uses and is short, the least any can use.

    ``laid`` is the share of the cuts that the layout in work holds, 0 when none is.
    """

    used: float
    bound: float
    short: float
    laid: float = 0.0


class Watch:
    """Keeps the best layout and tells how the search goes, seldom enough not to slow it.

    The clock decides only when something is told, never what is found.
    """

    def __init__(
        self, unit: float = 1.0, tell: Callable[[Progress], None] | None = None, *, until_it_fits: bool = False
    ) -> None:
        self.best: Layout | None = None
        self.bound = self.least_opened = 0
        self.laid = 0.0
        self.until_it_fits = until_it_fits
        self._unit, self._tell = unit, tell
        self._next = time.monotonic() + FIRST_AFTER

    def offer(self, layout: Layout) -> None:
        """Keep the layout if it is the best."""
        if self.best is None or layout.cost < self.best.cost:
            self.best = layout
        self.beat()

    def content(self) -> bool:
        """Whether nothing better is wanted: all fits, on the fewest rolls and at the bound, or however that is."""
        best = self.best
        if best is None or best.over:
            return False
        return self.until_it_fits or (best.used <= self.bound and best.opened <= self.least_opened)

    def beat(self) -> None:
        """Called often by a search: tells how it goes when it is time."""
        if self._tell is None or self.best is None or not self.bound or time.monotonic() < self._next:
            return
        self._next = time.monotonic() + EVERY
        used, bound, short = (float(n * self._unit) for n in (self.best.used, self.bound, self.best.over))
        self._tell(Progress(used, bound, short, self.laid))

    def again(self, unit: float | None = None, *, until_it_fits: bool = False) -> Watch:
        """A watch for another search of the same person: it tells in the same way and knows no layout yet."""
        unit = self._unit if unit is None else unit
        other = Watch(unit, self._tell, until_it_fits=self.until_it_fits or until_it_fits)
        other._next = self._next
        return other

    def within(self, widened: Callable[[Layout], Layout]) -> Watch:
        """A watch for the search of a part of the same instance: what is found there is offered here too, ``widened``
        to a layout of the whole."""
        return _Within(self, widened)


class _Within(Watch):
    """Keeps the best layout of a part; the watch of the whole tells how it goes."""

    def __init__(self, outer: Watch, widened: Callable[[Layout], Layout]) -> None:
        super().__init__(outer._unit, until_it_fits=outer.until_it_fits)
        self.bound, self.least_opened = outer.bound, outer.least_opened
        self._outer, self._widened = outer, widened

    def offer(self, layout: Layout) -> None:
        if self.best is None or layout.cost < self.best.cost:
            self.best = layout
            self._outer.offer(self._widened(layout))

    def beat(self) -> None:
        self._outer.laid = self.laid
        self._outer.beat()
