"""Where a cut may start on a piece, in whole units.

All lengths of one problem are multiples of one unit, so whole numbers carry them exactly and fast.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import lcm

from jobs.model.piece import Flaw
from jobs.model.records import dataclass

Interval = tuple[int, int]


@dataclass(frozen=True, order=True)
class Core:
    """The part of a shape that no flaw may meet: from and to along it, near and far across the cloth, in units."""

    start: int
    end: int
    near: int
    far: int


@dataclass(frozen=True, order=True)
class Shape:
    """What the layout needs to know of a cut: its length and where it starts in the repeat, from a row, in units.

    Without ``cores`` the whole of it, selvedge to selvedge, must be free of flaws.
    """

    length: int
    phase: int
    cores: tuple[Core, ...] = ()


@dataclass(frozen=True, order=True)
class Spot:
    """A flaw over part of the width: from and to along, near and far across, in units."""

    start: int
    end: int
    near: int
    far: int


@dataclass(frozen=True)
class Roll:
    """A piece in units: repeat along (0 when plain), first row, first usable place, flaws, where it ends.

    ``flaws`` go over the full width, apart and in order; ``spots`` over part of it. Without ``end`` it never ends.
    ``taken`` is cut already, apart and in order: no part of a shape may lie there, and the roll is used up to there.
    """

    repeat: int
    first_row: int
    begin: int
    flaws: tuple[Interval, ...] = ()
    spots: tuple[Spot, ...] = ()
    end: int | None = None
    taken: tuple[Interval, ...] = ()

    @property
    def used(self) -> int:
        """How far the roll is used before anything is laid on it."""
        return self.taken[-1][1] if self.taken else 0

    @property
    def barriers(self) -> tuple[Interval, ...]:
        """Where a shape without cores may not lie, spots left out: what is flawed or taken, apart and in order."""
        return _merged((*self.flaws, *self.taken)) if self.taken else self.flaws


@dataclass(frozen=True)
class Units:
    """Fractions of an inch as whole units: ``unit`` is the length of one."""

    unit: Fraction

    @classmethod
    def fitting(cls, lengths: Iterable[Fraction]) -> Units:
        """The largest unit that is a whole part of an inch and measures all of these lengths."""
        return cls(Fraction(1, lcm(*{length.denominator for length in lengths})))

    def halved(self) -> Units:
        """Units of half the length."""
        return Units(self.unit / 2)

    def count(self, length: Fraction) -> int:
        """The length in units; raises ValueError when it is not a whole number of them."""
        units = length / self.unit
        if units.denominator != 1:
            raise ValueError(f"{length} is not a whole number of units of {self.unit} in")
        return units.numerator

    def inches(self, units: int) -> Fraction:
        """The length of so many units."""
        return units * self.unit


def merged_flaws(flaws: Iterable[Flaw]) -> tuple[tuple[Fraction, Fraction], ...]:
    """The flaws as stretches of the full width, apart and in order; flaws that touch become one."""
    merged: list[tuple[Fraction, Fraction]] = []
    for start, end in sorted((flaw.start, flaw.end) for flaw in flaws):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return tuple(merged)


def blocked(roll: Roll, shape: Shape) -> tuple[Interval, ...]:
    """The open intervals, apart and in order, in which the shape may not start because it would lie on a flaw."""
    whole = (Core(0, shape.length, 0, 0),)
    taken = [(start - shape.length, end) for start, end in roll.taken]
    found = [(start - core.end, end - core.start) for core in shape.cores or whole for start, end in roll.flaws]
    for spot in roll.spots:
        for core in shape.cores or whole:
            if not shape.cores or (core.near < spot.far and spot.near < core.far):
                found.append((spot.start - core.end, spot.end - core.start))
    merged: list[Interval] = []
    for low, high in sorted([*found, *taken]):
        if merged and low < merged[-1][1]:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        elif low < high:
            merged.append((low, high))
    return tuple(merged)


def _merged(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    merged: list[Interval] = []
    for low, high in sorted(intervals):
        if merged and low <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    return tuple(merged)


def earliest_start(roll: Roll, shape: Shape, after: int) -> int:
    """The least start not before ``after``, on the shape's place in the repeat, clear of every flaw (it may touch).

    It never falls when ``after`` grows, because it is the least of a fixed set of good starts.
    """
    return Track(roll, (shape,)).start(0, after)


class Track:
    """A roll as a search sees it: the earliest starts of the given shapes, by their number in ``shapes``.

    Where a shape may not start is worked out when it is first asked for, as most shapes never come near most rolls;
    ``like`` is a track of the same shapes.
    """

    def __init__(self, roll: Roll, shapes: Sequence[Shape], like: Track | None = None) -> None:
        self.roll = roll
        self.repeat = roll.repeat
        self.begin = roll.begin
        self.first_row = roll.first_row
        self.shapes = shapes
        self.lengths: list[int] = like.lengths if like else [shape.length for shape in shapes]
        self.phases: list[int] = like.phases if like else [shape.phase for shape in shapes]
        self._spoilt = bool(roll.flaws or roll.spots or roll.taken)
        self._blocks: dict[int, tuple[list[int], list[int]]] = {}

    def start(self, number: int, after: int) -> int:
        """The earliest start of a shape not before ``after``."""
        repeat = self.repeat
        row = self.first_row + self.phases[number]
        start = after + (row - after) % repeat if repeat else after
        if not self._spoilt:
            return start
        lows, highs = self.blocks(number)
        if not highs or start >= highs[-1]:
            return start
        at = bisect_right(highs, start)
        while at < len(lows) and start > lows[at]:
            if start < highs[at]:
                start = highs[at]
                if repeat:
                    start += (row - start) % repeat
            at += 1
        return start

    def blocks(self, number: int) -> tuple[list[int], list[int]]:
        """Lower and upper ends of the open intervals, apart and in order, in which a shape may not start."""
        found = self._blocks.get(number)
        if found is None:
            intervals = blocked(self.roll, self.shapes[number])
            found = [low for low, _ in intervals], [high for _, high in intervals]
            self._blocks[number] = found
        return found

    def starts(self, order: Iterable[int]) -> list[int]:
        """Each shape as early as it can lie after the one before it, the first one not before ``begin``."""
        starts, after = [], self.begin
        for number in order:
            start = self.start(number, after)
            starts.append(start)
            after = start + self.lengths[number]
        return starts

    def end(self, order: Sequence[int]) -> int:
        """Where the last of the shapes ends; ``begin`` when there is none."""
        at = self.begin
        for number in order:
            at = self.start(number, at) + self.lengths[number]
        return at


def starts_in_order(roll: Roll, shapes: Sequence[Shape]) -> list[int]:
    """Each shape as early as it can lie after the one before it, the first one not before ``roll.begin``."""
    return Track(roll, shapes).starts(range(len(shapes)))


def end_in_order(roll: Roll, shapes: Sequence[Shape]) -> int:
    """Where the last of the shapes ends; ``roll.begin`` when there is none."""
    return Track(roll, shapes).end(range(len(shapes)))
