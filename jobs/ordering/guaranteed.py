"""The least length that suffices wherever in the repeat the mill cut the first end.

Let the cloth begin at phase ``x`` of the print. The least length falls evenly while ``x`` nears the place where the
best first cut starts and can only rise when ``x`` passes a place where some cut starts. So the supremum over ``x`` is
the largest of the limits just past those places. Half units find it: between such a place and half a unit past it no
other lies. For n equal upright cuts of length L it is V + (n - 1) ceil(L / V) V + L.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate

from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut
from jobs.packing.engines.ring import least_length
from jobs.packing.items import lanes_of, plain_shapes, plain_units
from jobs.packing.joined import Joined
from jobs.packing.rolls import Roll, Shape


def guaranteed_length(cuts: Sequence[Cut], cloth: Cloth) -> Fraction:
    """The least length that suffices for every first row in [0, repeat), squaring and flaws left out of account."""
    if cloth.repeat is None or not cuts:
        return sum((lane[0].shared_length for lane in lanes_of(cuts)), Fraction(0))
    units = plain_units(cuts, cloth).halved()
    shapes = plain_shapes(cuts, cloth, units)
    return units.inches(1 + worst_length(shapes, units.count(cloth.repeat.along)))


def worst_length(shapes: Sequence[Shape], repeat: int) -> int:
    """The greatest least length over beginnings just past a place where a shape starts; all lengths are even."""
    begins = sorted({shape.phase + 1 for shape in shapes})
    connected = _Circle(shapes, repeat)
    if connected.one_graph():
        return max(connected.length_from(begin) for begin in begins)
    return max(least_length(Roll(repeat, 0, begin), shapes) for begin in begins)


class _Circle:
    """The cuts on a circle of one repeat, as in ``packing.ring``, prepared for every beginning at once.

    ``levels`` holds for each stretch between two points how many more cuts have ended before it than begun after the
    origin. With ``w`` trips past the origin and the last cut ending at ``z`` a stretch is travelled ``level + w`` times
    and once more between the beginning and ``z``. All must be zero or more: either ``w`` alone sees to it, or one less
    does and the way from the beginning to ``z`` takes in every stretch of the lowest level.
    """

    def __init__(self, shapes: Sequence[Shape], repeat: int) -> None:
        self.repeat = repeat
        self.starts = [shape.phase for shape in shapes]
        self.leaves = [(shape.phase + shape.length) % repeat for shape in shapes]
        self.points = sorted({*self.starts, *self.leaves})
        arriving, leaving = Counter(self.starts), Counter(self.leaves)
        self.levels = list(accumulate(leaving[point] - arriving[point] for point in self.points))
        self.lowest = min(self.levels)
        after = [*self.points[1:], self.points[0] + repeat]
        sizes = [high - low for low, high in zip(self.points, after, strict=True)]
        waste = sum(level * size for level, size in zip(self.levels, sizes, strict=True))
        self.base = sum(shape.length for shape in shapes) + waste - self.lowest * repeat
        self.ends = sorted(set(self.leaves))
        self.low_ends = [after[n] for n, level in enumerate(self.levels) if level == self.lowest]
        self.low_stretches = [n for n, level in enumerate(self.levels) if level == self.lowest]

    def one_graph(self) -> bool:
        """Whether cuts and stretches travelled at any rate hang together, whatever the beginning and the end."""
        count = len(self.points)
        rank = {point: number for number, point in enumerate(self.points)}
        joined = Joined(count)
        for number, level in enumerate(self.levels):
            if level >= self.lowest + 2:
                joined.join(number, (number + 1) % count)
        for start, leave in zip(self.starts, self.leaves, strict=True):
            joined.join(rank[start], rank[leave])
        return joined.is_one

    def length_from(self, begin: int) -> int:
        """The least length of all cuts on cloth that begins here, where they hang together at any rate."""
        stretch = bisect_left(self.points, begin) - 1
        ordinary = self.base + self._on(begin, begin)
        if self.levels[stretch] == self.lowest:
            return ordinary
        before = bisect_left(self.low_stretches, stretch) - 1
        passed = self.low_ends[before] + (0 if before < 0 else self.repeat)
        length = self._on(begin, passed)
        return self.base - self.repeat + length if length < self.repeat else ordinary

    def _on(self, begin: int, passed: int) -> int:
        """From the beginning to the first end of a cut at or after ``passed``, a place at or after the beginning."""
        at = bisect_left(self.ends, passed % self.repeat)
        end = self.ends[at] if at < len(self.ends) else self.ends[0] + self.repeat
        return passed - begin + end - passed % self.repeat
