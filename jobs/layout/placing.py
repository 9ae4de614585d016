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


@dataclass(frozen=True, order=True)
class Shape:
    """What the layout needs to know of a cut: its length and where it starts in the repeat, from a row, in grains."""

    length: int
    residue: int


@dataclass(frozen=True)
class Strip:
    """A piece in grains: repeat along (0 when plain), first row, first usable place, flaws apart and in order."""

    repeat: int
    first_row: int
    begin: int
    flaws: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Grains:
    """Fractions of an inch as whole grains: ``grain`` is the length of one."""

    grain: Fraction

    @classmethod
    def fitting(cls, lengths: Iterable[Fraction]) -> Grains:
        """The largest grain that is a whole part of an inch and measures all of these lengths."""
        return cls(Fraction(1, lcm(*(length.denominator for length in lengths))))

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
    """Distance from a row to the cut's first edge, in [0, repeat): the table above; 0 on plain cloth."""
    if cloth.repeat is None or cut.row is None:
        return Fraction(0)
    shift = 2 * cloth.print.mirror_offset if cut.way is Way.TURNED else Fraction(0)
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


def earliest_start(strip: Strip, shape: Shape, after: int) -> int:
    """The least start not before ``after``, on the shape's place in the repeat, clear of every flaw (it may touch).

    It never falls when ``after`` grows, because it is the least of a fixed set of good starts.
    """
    start = _on_row(strip, shape, after)
    for number in range(bisect_right(strip.flaws, start, key=_flaw_end), len(strip.flaws)):
        flaw_start, flaw_end = strip.flaws[number]
        if start + shape.length <= flaw_start:
            break
        if start < flaw_end:
            start = _on_row(strip, shape, flaw_end)
    return start


def starts_in_order(strip: Strip, shapes: Sequence[Shape]) -> list[int]:
    """Each shape as early as it can lie after the one before it, the first one not before ``strip.begin``."""
    starts, after = [], strip.begin
    for shape in shapes:
        starts.append(earliest_start(strip, shape, after))
        after = starts[-1] + shape.length
    return starts


def end_in_order(strip: Strip, shapes: Sequence[Shape]) -> int:
    """Where the last of the shapes ends; ``strip.begin`` when there is none."""
    return starts_in_order(strip, shapes)[-1] + shapes[-1].length if shapes else strip.begin


def _flaw_end(flaw: tuple[int, int]) -> int:
    return flaw[1]


def _on_row(strip: Strip, shape: Shape, after: int) -> int:
    return after + (strip.first_row + shape.residue - after) % strip.repeat if strip.repeat else after
