"""Filling strips one after another, several part fillings kept side by side wherever along the strip they have come to.

A part filling that has come as far as another is better when what it has laid is worth more (``many.prices``). The next
cut is looked for where it wastes little, one or two of each class of lengths, and where it ends just before a flaw or
the end of the strip. Same house, same answer.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from heapq import heappush, heapreplace
from typing import Any

from jobs.layout.many.house import House
from jobs.layout.many.stock import Stock
from jobs.layout.placing import Track

THOUSAND = 1000


@dataclass(frozen=True)
class Taste:
    """How a filling is looked for.

    ``width`` part fillings are kept at each place, ``near`` candidates of each class of lengths tried, ``owing``
    bundles begun at once. ``rate`` thousandths of a grain of cloth may be used for a grain of worth; ``gap`` is what
    bare cloth counts for beside its price, and ``full`` the rate at which it is decided where a strip ends.
    """

    width: int = 8
    near: int = 2
    owing: int = 2
    rate: int = 1050
    gap: int = 200
    full: int = 1300


Part = tuple[int, int, int, int, tuple[tuple[int, int], ...], tuple[int, ...], Any, int]
"""Cost so far, where it ends, bare cloth, worth laid, entries owed, kinds begun, link to what was laid, length owed."""


def filled(
    house: House, lots: Sequence[Sequence[int]], taste: Taste, beat: Callable[[], None] = lambda: None
) -> list[list[int]]:
    """Items for each strip, the strips of each lot filled in the order given; what finds no room is laid nowhere.

    ``beat`` is called now and then and may raise to stop.
    """
    stock = Stock(house)
    orders: list[list[int]] = [[] for _ in house.strips]
    for lot in lots:
        owed: tuple[tuple[int, int], ...] = ()
        begun: tuple[int, ...] = ()
        ways: list[tuple[int, list[tuple[int, int]]]] = []
        for place, strip in enumerate(lot):
            beat()
            if stock.left:
                after = sum(house.ends[other] for other in lot[place + 1 :])
                filling = _Filling(stock, house.tracks[strip], house.ends[strip], after, taste)
                part = filling.best(owed, begun)
                owed, begun = part[4], part[5]
                ways.append((strip, _trace(part[6])))
        stock.take(ways, orders)
        stock.refresh()
    return orders


def _trace(link: Any) -> list[tuple[int, int]]:
    way = []
    while link is not None:
        link, entry = link
        way.append(entry)
    return way[::-1]


class _Filling:
    """The search for a filling of one strip; ``after`` is how much cloth of its lot is to come."""

    def __init__(self, stock: Stock, track: Track, end: int, after: int, taste: Taste) -> None:
        self.stock, self.track, self.end, self.after, self.taste = stock, track, end, after, taste
        self.bucket = max(track.repeat, min(track.lengths) // 4, 1)
        self.most = {kind: len(stock.free[kind]) for kind in stock.left}
        self.waiting: dict[int, dict[int, list[tuple[int, int, Part]]]] = {}
        self.known: dict[int, dict[tuple[int, int], int]] = {}
        self.number = 0
        self.final: Part | None = None
        self.least = 0

    def best(self, owed: tuple[tuple[int, int], ...], begun: tuple[int, ...]) -> Part:
        """The filling that is worth most for the cloth it uses, and owes nothing unless cloth of the lot is to come."""
        length = sum(self.track.lengths[shape] for _, shape in owed)
        first: Part = (0, self.track.begin, 0, 0, owed, begun, None, length)
        if not owed or self.after:
            self.final = first
        self._put(first)
        while self.waiting:
            place = min(self.waiting)
            self.known.pop(place, None)
            groups = self.waiting.pop(place)
            for group in [groups[owing] for owing in sorted(groups)]:
                for _, _, part in sorted(group, reverse=True):
                    self._continue(part)
        return self.final if self.final is not None else first

    def _put(self, part: Part) -> None:
        """Keep a part filling among the best of its place that owe as many cuts."""
        place = part[1] // self.bucket
        groups = self.waiting.setdefault(place, {})
        group = groups.setdefault(len(part[4]), [])
        self.number += 1
        entry = (-part[0], -self.number, part)
        if len(group) < self.taste.width:
            heappush(group, entry)
        elif entry > group[0]:
            heapreplace(group, entry)

    def _continue(self, part: Part) -> None:
        """The part filling with one shape more, in every way worth trying."""
        owed, begun = part[4], part[5]
        tried = set()
        for number, entry in enumerate(owed):
            if entry not in tried:
                tried.add(entry)
                length = part[7] - self.track.lengths[entry[1]]
                self._lay(part, entry, owed[:number] + owed[number + 1 :], begun, length)
        if len({kind for kind, _ in owed}) >= self.taste.owing:
            return
        room, stock = self.end + self.after - part[1] - part[7], self.stock
        tried.clear()
        for entry in self._candidates(part[1]):
            kind, shape = entry
            if entry in tried or stock.lengths[kind] > room or (begun and begun.count(kind) >= self.most[kind]):
                continue
            tried.add(entry)
            length = part[7] + stock.lengths[kind] - self.track.lengths[shape]
            self._lay(part, entry, owed + stock.others[entry], (*begun, kind), length)

    def _candidates(self, at: int) -> list[tuple[int, int]]:
        stock, track, taste = self.stock, self.track, self.taste
        repeat, strip = track.repeat, track.strip
        flaw = next((flaw for flaw in strip.barriers if flaw[1] > at), None)
        room = (flaw[0] if flaw else self.end) - at
        found = stock.near((at - strip.first_row) % repeat if repeat else 0, taste.near)
        if room < 2 * stock.longest:
            found += stock.fitting(room)
            if flaw and room < stock.longest:
                found += stock.near((flaw[1] - strip.first_row) % repeat if repeat else 0, 1)
        return found

    def _lay(
        self,
        part: Part,
        entry: tuple[int, int],
        owed: tuple[tuple[int, int], ...],
        begun: tuple[int, ...],
        length: int,
    ) -> None:
        track, taste, shape = self.track, self.taste, entry[1]
        start = track.start(shape, part[1])
        at = start + track.lengths[shape]
        if at > self.end:
            return
        gaps, laid = part[2] + start - part[1], part[3] + self.stock.worth[shape]
        cost = at * THOUSAND - laid * taste.rate + gaps * taste.gap
        known = self.known.setdefault(at // self.bucket, {})
        key = (at, laid)
        if known.get(key, cost + 1) <= cost:
            return
        known[key] = cost
        then: Part = (cost, at, gaps, laid, owed, begun, (part[6], entry), length)
        if not owed or self.after:
            worth = cost - laid * (taste.full - taste.rate)
            if self.final is None or worth < self.least:
                self.final, self.least = then, worth
        self._put(then)
