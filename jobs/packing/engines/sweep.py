"""One roll filled: part fillings kept side by side wherever along the roll they have come to, all of a place at once.

A part filling that has come as far as another is better when less cloth lies bare behind it, at its price. The next
cut is looked for where it wastes little, one or two of each class of lengths; and, near a flaw or the end of the roll,
among all by how well they fill what is left. Same instance, same answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

import numpy as np

from jobs.model.records import dataclass
from jobs.packing.engines.pool import Floats, Ints, Pool
from jobs.packing.rolls import Track


@dataclass(frozen=True)
class Parts:
    """``at`` (n,) where the next cut may begin, ``cost`` (n,) bare cloth so far at its price, ``laid`` (n,) lengths.

    ``owed`` (n, most) entries that must still be laid, -1 for none, and ``owing`` (n,) their length together, ``begun``
    (n, d) kinds begun, -1 for none, ``link`` (n,) the number of the last cut laid.
    """

    at: Ints
    cost: Floats
    laid: Ints
    owed: Ints
    owing: Ints
    begun: Ints
    link: Ints

    def rows(self, which: Ints) -> Parts:
        """Some of the part fillings."""
        return Parts(
            self.at[which],
            self.cost[which],
            self.laid[which],
            self.owed[which],
            self.owing[which],
            self.begun[which],
            self.link[which],
        )


def joined(parts: Sequence[Parts]) -> Parts:
    """All of them together."""
    if len(parts) == 1:
        return parts[0]
    wide = max(part.begun.shape[1] for part in parts)
    begun = np.concatenate([_widened(part.begun, wide) for part in parts])
    columns = {f.name: np.concatenate([getattr(p, f.name) for p in parts]) for f in fields(Parts) if f.name != "begun"}
    return Parts(begun=begun, **columns)


def _widened(rows: Ints, wide: int) -> Ints:
    found = np.full((len(rows), wide), -1, np.int64)
    found[:, : rows.shape[1]] = rows
    return found


def packed(rows: Ints) -> Ints:
    """Rows with what is -1 moved to their ends, and columns that are -1 throughout left out."""
    found = -np.sort(-rows, axis=1)
    return found[:, : int((found >= 0).sum(axis=1).max(initial=0))]


def best_of_groups(groups: Ints, ranks: Floats, most: int) -> Ints:
    """The numbers of those with the least ranks of each group, at most so many of each."""
    order = np.lexsort((ranks, groups))
    sorted_groups = groups[order]
    numbers = np.arange(len(order))
    begins = np.ones(len(order), bool)
    begins[1:] = sorted_groups[1:] != sorted_groups[:-1]
    place = numbers - np.maximum.accumulate(np.where(begins, numbers, 0))
    chosen: Ints = order[place < most]
    return chosen


OWING = 7
"""Bundles that may be begun and not yet laid whole, when one more is begun."""
GROUPS = 8
"""Part fillings that owe more and fewer cuts are kept apart, in about so many groups."""
CLOSING = 8
FORESEEN = 0.5
"""The share of the least gaps that entries owed must still make that counts against a part filling."""
FAR = 1 << 62


@dataclass(frozen=True)
class SweepParameters:
    """At each place ``width`` part fillings are kept of those that owe about as many cuts.

    ``near`` candidates of each class of lengths are tried. It is better to stop where more than ``bare`` of what is
    laid would be bare cloth besides.
    """

    width: int = 10
    near: int = 3
    bare: float = 0.03


@dataclass(frozen=True)
class Swept:
    """Entries laid in order, what is still owed and what was begun."""

    way: list[int]
    owed: Ints
    begun: Ints


class Sweep:
    """The search for a filling of one roll from ``begin`` on; ``after`` is how much cloth of its lot is to come."""

    def __init__(self, pool: Pool, track: Track, begin: int, end: int, after: int, parameters: SweepParameters) -> None:
        self.pool, self.track, self.end, self.after, self.parameters = pool, track, end, after, parameters
        self.repeat, self.first_row, self.begin = track.repeat, track.first_row, begin
        self.bucket = max(1, pool.shortest)
        self.most_owed = max(pool.mates.shape[1], min(OWING * pool.mates.shape[1], 2 * OWING))
        self.step = self.most_owed // GROUPS + 1
        self.whole = not any(shape.cores for shape in track.shapes)
        self.flaw_starts: Ints = np.array([*(s for s, _ in track.roll.barriers), end], np.int64)
        self.flaw_ends: Ints = np.array([*(e for _, e in track.roll.barriers), FAR], np.int64)
        self.lows, self.highs = self._blocks()
        self.waiting: dict[int, list[Parts]] = {}
        self.links: list[tuple[Ints, Ints]] = []
        self.count = 0
        self.final: Parts | None = None
        self.least = 0.0

    def _blocks(self) -> tuple[Ints, Ints]:
        """Where the entries looked at may not start, (entries, most) each; the rest is padded far away."""
        roll = self.track.roll
        if self.whole and not roll.spots:
            lows = self.flaw_starts[None, :-1] - self.pool.lengths[:, None]
            return lows, np.broadcast_to(self.flaw_ends[None, :-1], lows.shape)
        blocks = [self.track.blocks(int(shape)) for shape in self.pool.shape]
        most = max(len(lows) for lows, _ in blocks)
        found = np.full((2, len(blocks), most), FAR, np.int64)
        for number, (lows_of, highs_of) in enumerate(blocks):
            found[0, number, : len(lows_of)], found[1, number, : len(highs_of)] = lows_of, highs_of
        return found[0], found[1]

    def best(self, owed: Ints, begun: Ints) -> Swept:
        """The filling that leaves least bare, and owes nothing unless cloth of the lot is to come."""
        one = np.array
        held = np.full((1, self.most_owed), -1, np.int64)
        held[0, : len(owed)] = owed
        owing = int(self.pool.lengths[owed].sum())
        first = Parts(one([self.begin]), one([0.0]), one([0]), held, one([owing]), begun[None, :], one([-1]))
        if not owing or self.after:
            self.final = first
        self.waiting[self.begin // self.bucket] = [first]
        while self.waiting:
            parts = joined(self.waiting.pop(min(self.waiting)))
            self._continue(self._kept(parts))
        final = first if self.final is None else self.final
        kept, kinds = final.owed[0], final.begun[0]
        return Swept(self._way(int(final.link[0])), kept[kept >= 0], kinds[kinds >= 0])

    def _way(self, link: int) -> list[int]:
        parents = np.concatenate([links for links, _ in self.links]) if self.links else np.zeros(0, np.int64)
        entries = np.concatenate([laid for _, laid in self.links]) if self.links else np.zeros(0, np.int64)
        way = []
        while link >= 0:
            way.append(int(entries[link]))
            link = int(parents[link])
        return way[::-1]

    def _kept(self, parts: Parts) -> Parts:
        """The best of those that owe about as many cuts, each once."""
        owed = (parts.owed >= 0).sum(axis=1)
        rank = parts.cost + FORESEEN * self._foreseen(parts)
        order = np.lexsort((parts.at, parts.cost, rank))
        same = (np.diff(parts.cost[order]) == 0) & (np.diff(parts.at[order]) == 0) & (np.diff(owed[order]) == 0)
        order = order[np.concatenate([[True], ~same])]
        return parts.rows(order[best_of_groups(owed[order] // self.step, rank[order], self.parameters.width)])

    def _foreseen(self, parts: Parts) -> Floats:
        """For each part filling the gaps before all it owes, each behind what it would best follow."""
        entries = parts.owed
        if not self.repeat or not (entries >= 0).any():
            return np.zeros(len(parts.at))
        repeat, there = self.repeat, entries >= 0
        starts = self.first_row + self.pool.phases[entries]
        ends = np.concatenate([parts.at[:, None], starts + self.pool.lengths[entries]], axis=1)
        gaps = (starts[:, None, :] - ends[:, :, None]) % repeat
        gaps[:, 1:][~there] = repeat
        own = np.arange(entries.shape[1])
        gaps[:, own + 1, own] = repeat
        least = gaps.min(axis=1)
        found: Floats = np.where(there, least, 0).sum(axis=1).astype(float)
        return found

    def _candidates(self, parts: Parts, phases: Ints) -> Ints:
        """For each part filling (n,) entries that might come next, (n, some), -1 for none."""
        pool = self.pool
        found = [pool.near(phases, self.parameters.near, parts.begun.shape[1])]
        room = self.flaw_starts[np.searchsorted(self.flaw_ends, parts.at, side="right")] - parts.at
        close = np.flatnonzero(room < pool.longest + self.repeat)
        if len(close):
            live = pool.live
            gaps = (pool.phases[live][None, :] - phases[close][:, None]) % self.repeat if self.repeat else 0
            fits = gaps + pool.lengths[live][None, :] <= room[close][:, None]
            most = min(CLOSING, len(live))
            best = np.argpartition(np.where(fits, -pool.worth[live][None, :], 1.0), most - 1, axis=1)[:, :most]
            ends = np.full((len(parts.at), most), -1, np.int64)
            ends[close] = np.where(np.take_along_axis(fits, best, axis=1), live[best], -1)
            found.append(ends)
        return np.concatenate(found, axis=1)

    def _continue(self, parts: Parts) -> None:
        """Every part filling with one entry more, in every way worth trying."""
        pool = self.pool
        phases = (parts.at - self.first_row) % self.repeat if self.repeat else np.zeros_like(parts.at)
        fresh = self._candidates(parts, phases)
        owed = (parts.owed >= 0).sum(axis=1)
        crowded = owed[:, None] + pool.others[pool.kind[fresh]] > self.most_owed
        entries = np.concatenate([np.where(crowded, -1, fresh), parts.owed], axis=1)
        row, column = np.nonzero(entries >= 0)
        entry, due = entries[row, column], column >= fresh.shape[1]
        start = self._starts(parts.at[row], entry)
        to = start + pool.lengths[entry]
        rest = np.where(due, 0, pool.kind_lengths[pool.kind[entry]]) - pool.lengths[entry]
        owing = parts.owing[row] + rest
        good = np.flatnonzero((to <= self.end) & (to + owing <= self.end + self.after))
        row, entry, due, to, owing = row[good], entry[good], due[good], to[good], owing[good]
        if not len(row):
            return
        at = self._jumped(to)
        before, after = pool.priced(parts.at[row], self.first_row), pool.priced(to, self.first_row)
        bare = parts.cost[row] + after - before - pool.worth[entry]
        cost = bare + pool.priced(at, self.first_row) - after
        number = owed[row] + np.where(due, -1, pool.others[pool.kind[entry]])
        group = at // self.bucket * (self.most_owed + 1) + number // self.step
        few = best_of_groups(group, cost, self.parameters.width)
        used = (parts.begun[row[few]] == pool.kind[entry[few]][:, None]).sum(axis=1)
        few = few[due[few] | (used < pool.left[pool.kind[entry[few]]])]
        if len(few):
            after_ = Laid(row[few], entry[few], due[few], to[few], at[few], owing[few], bare[few], cost[few])
            self._keep(parts, after_)

    def _starts(self, after: Ints, entry: Ints) -> Ints:
        """The earliest starts of entries not before places (n,)."""
        row = self.first_row + self.pool.phases[entry]
        start = after + (row - after) % self.repeat if self.repeat else after.copy()
        low, high = int(start.min(initial=FAR)), int(start.max(initial=0))
        for block in range(self.lows.shape[1]):
            lows, highs = self.lows[entry, block], self.highs[entry, block]
            if not len(lows) or lows.min() >= high or highs.max() <= low:
                continue
            hit = np.flatnonzero((start > lows) & (start < highs))
            if len(hit):
                there = highs[hit]
                start[hit] = there + (row[hit] - there) % self.repeat if self.repeat else there
                high = max(high, int(start.max()))
        return start

    def _jumped(self, to: Ints) -> Ints:
        """Where the next cut may begin at the earliest: behind a flaw that is too near for any."""
        if not self.whole:
            return to
        flaw = np.searchsorted(self.flaw_ends, to, side="right")
        near = (to + self.pool.shortest > self.flaw_starts[flaw]) & (flaw < len(self.flaw_ends) - 1)
        return np.where(near, self.flaw_ends[flaw], to)

    def _keep(self, parts: Parts, laid: Laid) -> None:
        """Put what was laid among what is waiting, and remember the best filling to end with."""
        pool, row, entry, due = self.pool, laid.row, laid.entry, laid.due
        owed = parts.owed[row]
        if owed.shape[1]:
            gone = np.flatnonzero(due)
            owed[gone, (owed[gone] == entry[gone][:, None]).argmax(axis=1)] = -1
            more = np.where(due[:, None], -1, pool.mates[entry])
            owed = -np.sort(-np.concatenate([owed, more], axis=1), axis=1)[:, : self.most_owed]
        begun = np.concatenate([parts.begun[row], np.where(due, -1, pool.kind[entry])[:, None]], axis=1)
        links = np.arange(self.count, self.count + len(row))
        self.count += len(row)
        self.links.append((parts.link[row], entry))
        lengths = parts.laid[row] + pool.lengths[entry]
        found = Parts(laid.at, laid.cost, lengths, owed, laid.owing, packed(begun), links)
        done = np.flatnonzero((laid.owing == 0) | (self.after > 0))
        if len(done):
            used = laid.to[done] - self.begin - (self._price(laid.to[done]) - self._price(np.array([self.begin])))
            ranks = laid.bare[done] + used - self.parameters.bare * lengths[done]
            best = int(ranks.argmin())
            if self.final is None or ranks[best] < self.least:
                self.final, self.least = found.rows(done[best : best + 1]), float(ranks[best])
        places = laid.at // self.bucket
        for place in np.unique(places):
            self.waiting.setdefault(int(place), []).append(found.rows(np.flatnonzero(places == place)))

    def _price(self, places: Ints) -> Floats:
        return self.pool.priced(places, self.first_row)


@dataclass(frozen=True)
class Laid:
    """Entries laid after part fillings, columns of (n,): the row of the part filling, the entry, whether it was due,
    where it ends, where the next may begin, what is owed then, and bare cloth up to its end and up to the next."""

    row: Ints
    entry: Ints
    due: Ints
    to: Ints
    at: Ints
    owing: Ints
    bare: Floats
    cost: Floats
