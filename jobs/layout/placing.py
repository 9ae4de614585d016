"""Where a cut may start on a piece, in whole grains.

Rows lie at ``f + k V`` along the piece (``V`` the repeat along, ``f`` the first row). A cut of length ``L`` wants a row
``t`` below its top edge. With ``m`` the distance along from a row to the next top-to-bottom mirror line, modulo ``V``:

==================  ========================  ========================
way                 top towards first end     top towards last end
==================  ========================  ========================
upright, face down  start = f - t             end = f + t
turned              end = f + 2 m + t         start = f + 2 m - t
==================  ========================  ========================

Upright, depth ``d`` below the top shows the print at ``f - t + d``. A mirror line at ``f + m`` makes the print at ``x``
the mirror image of the print at ``2 f + 2 m - x``, here ``f + 2 m + t - d``: that is depth ``d`` of a turned cut whose
far edge is at ``f + 2 m + t``. With the motif's top towards the last end, depths are counted from the far edge of the
upright cut and from the near edge of the turned one, and the same argument gives the other column.

Here ``m`` is counted along, away from the first end: the offset itself, which a job measures down the hanging cloth,
where the tops point to the first end, and the offset the other way where they point to the last.

All lengths of one problem are multiples of one grain, so whole numbers carry them exactly and fast.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from jobs.job import Cloth, Flaw
from jobs.plan import Cut, Way

Interval = tuple[int, int]


@dataclass(frozen=True, order=True)
class Core:
    """The part of a shape that no flaw may meet: from and to along it, near and far across the cloth, in grains."""

    start: int
    end: int
    near: int
    far: int


@dataclass(frozen=True, order=True)
class Shape:
    """What the layout needs to know of a cut: its length and where it starts in the repeat, from a row, in grains.

    Without ``cores`` the whole of it, selvedge to selvedge, must be free of flaws.
    """

    length: int
    residue: int
    cores: tuple[Core, ...] = ()


@dataclass(frozen=True, order=True)
class Spot:
    """A flaw over part of the width: from and to along, near and far across, in grains."""

    start: int
    end: int
    near: int
    far: int


@dataclass(frozen=True)
class Strip:
    """A piece in grains: repeat along (0 when plain), first row, first usable place, flaws, where it ends.

    ``flaws`` go over the full width, apart and in order; ``spots`` over part of it. Without ``end`` it never ends.
    ``taken`` is cut already, apart and in order: no part of a shape may lie there, and the strip is used up to there.
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
        """How far the strip is used before anything is laid on it."""
        return self.taken[-1][1] if self.taken else 0

    @property
    def barriers(self) -> tuple[Interval, ...]:
        """Where a shape without cores may not lie, spots left out: what is flawed or taken, apart and in order."""
        return _merged((*self.flaws, *self.taken)) if self.taken else self.flaws


@dataclass(frozen=True)
class Grains:
    """Fractions of an inch as whole grains: ``grain`` is the length of one."""

    grain: Fraction

    @classmethod
    def fitting(cls, lengths: Iterable[Fraction]) -> Grains:
        """The largest grain that is a whole part of an inch and measures all of these lengths."""
        return cls(Fraction(1, lcm(*{length.denominator for length in lengths})))

    def halved(self) -> Grains:
        """Grains of half the length."""
        return Grains(self.grain / 2)

    def count(self, length: Fraction) -> int:
        """The length in grains; raises ValueError when it is not a whole number of them."""
        grains = length / self.grain
        if grains.denominator != 1:
            raise ValueError(f"{length} is not a whole number of grains of {self.grain} in")
        return grains.numerator

    def inches(self, grains: int) -> Fraction:
        """The length of so many grains."""
        return grains * self.grain


def start_after_row(cut: Cut, cloth: Cloth) -> Fraction:
    """Distance from a row to the cut's first edge, in [0, repeat): the table above, or as a sideways cut says.

    0 on plain cloth.
    """
    if cut.after_row is not None:
        return cut.after_row
    if cloth.repeat is None or cut.row is None:
        return Fraction(0)
    shift = 2 * cloth.print.mirror_along if cut.way is Way.TURNED else Fraction(0)
    after = shift - cut.row if cut.top_first else shift + cut.row - cut.length
    return after % cloth.repeat.along


def merged_flaws(flaws: Iterable[Flaw]) -> tuple[tuple[Fraction, Fraction], ...]:
    """The flaws as stretches of the full width, apart and in order; flaws that touch become one."""
    merged: list[tuple[Fraction, Fraction]] = []
    for start, end in sorted((flaw.start, flaw.end) for flaw in flaws):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return tuple(merged)


def blocked(strip: Strip, shape: Shape) -> tuple[Interval, ...]:
    """The open intervals, apart and in order, in which the shape may not start because it would lie on a flaw."""
    whole = (Core(0, shape.length, 0, 0),)
    taken = [(start - shape.length, end) for start, end in strip.taken]
    found = [(start - core.end, end - core.start) for core in shape.cores or whole for start, end in strip.flaws]
    for spot in strip.spots:
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


def earliest_start(strip: Strip, shape: Shape, after: int) -> int:
    """The least start not before ``after``, on the shape's place in the repeat, clear of every flaw (it may touch).

    It never falls when ``after`` grows, because it is the least of a fixed set of good starts.
    """
    return Track(strip, (shape,)).start(0, after)


class Track:
    """A strip as a search sees it: the earliest starts of the given shapes, by their number in ``shapes``.

    Where a shape may not start is worked out when it is first asked for, as most shapes never come near most strips;
    ``like`` is a track of the same shapes.
    """

    def __init__(self, strip: Strip, shapes: Sequence[Shape], like: Track | None = None) -> None:
        self.strip = strip
        self.repeat = strip.repeat
        self.begin = strip.begin
        self.first_row = strip.first_row
        self.shapes = shapes
        self.lengths: list[int] = like.lengths if like else [shape.length for shape in shapes]
        self.residues: list[int] = like.residues if like else [shape.residue for shape in shapes]
        self._spoilt = bool(strip.flaws or strip.spots or strip.taken)
        self._blocks: dict[int, tuple[list[int], list[int]]] = {}

    def start(self, number: int, after: int) -> int:
        """The earliest start of a shape not before ``after``."""
        repeat = self.repeat
        row = self.first_row + self.residues[number]
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
            intervals = blocked(self.strip, self.shapes[number])
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


def starts_in_order(strip: Strip, shapes: Sequence[Shape]) -> list[int]:
    """Each shape as early as it can lie after the one before it, the first one not before ``strip.begin``."""
    return Track(strip, shapes).starts(range(len(shapes)))


def end_in_order(strip: Strip, shapes: Sequence[Shape]) -> int:
    """Where the last of the shapes ends; ``strip.begin`` when there is none."""
    return Track(strip, shapes).end(range(len(shapes)))
