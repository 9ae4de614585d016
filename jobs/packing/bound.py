"""What no layout on the rolls can beat.

Patterned cloth: choose a phase ``x`` of the repeat ``V`` and look at the lines of the cloth that lie there. Every cut
covers a fixed number of such lines wherever it is laid, for it starts on its own place in the repeat; and a line is
covered by one cut at most. So the rolls together must give as many lines as the cuts cover, and a roll that gives
``N`` lines is used at least up to the ``N``-th of them and what the cut on it still takes. On plain cloth every unit
is such a line. Every ``x`` gives a bound and the largest is taken. (It is the dual of matching ends of cuts to starts.)

Between two flaws over the full width only whole sets of cuts can lie: no more lines than the largest sum of cuts that
fits, by the lines it covers and by its length. How the lines are shared among the rolls is worked out in
``many.staircase``.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate, pairwise
from math import ceil
from typing import NamedTuple

from jobs.model.records import dataclass
from jobs.packing.instance import Instance
from jobs.packing.rolls import Roll

MOST_PHASES = 24
MOST_ALONE = 20_000
MOST_BITS = 400_000
MOST_SHIFTS = 4_000
MOST_SHORT = 200
NEVER = 1 << 200


@dataclass(frozen=True)
class Lines:
    """A phase (1 apart and 0 on plain cloth), how many lines each shape covers, and the least a last line leaves."""

    phase: int
    step: int
    covered: tuple[int, ...]
    tail: int


@dataclass(frozen=True)
class Given:
    """Lines of one phase, how many of them the cuts cover, and what each roll gives."""

    lines: Lines
    needed: int
    stairs: list[list[Corner]]


@lru_cache(maxsize=4)
def given(instance: Instance) -> tuple[Given, ...]:
    """The lines of which the cuts cover most, with what the rolls give of them."""
    counts = _counts(instance)
    found = []
    for lines in _promising(instance, counts):
        needed = ceil(sum(lines.covered[number] * count for number, count in counts.items()))
        found.append(Given(lines, needed, _stairs(instance, lines)))
    return tuple(found)


def _counts(instance: Instance) -> Mapping[int, Fraction | int]:
    """How many there are of each shape, those that share a length counted by their part of its width."""
    if not instance.shares:
        return Counter(instance.item_shapes)
    counts: dict[int, Fraction] = {}
    for shape, bundle in zip(instance.item_shapes, instance.item_bundles, strict=True):
        counts[shape] = counts.get(shape, Fraction(0)) + instance.shares[bundle]
    return counts


def least_used(instance: Instance) -> int:
    """A total use that no layout can beat, however long the rolls reach beyond their ends when ``instance`` says so."""
    best = max(_least_for(instance, one) for one in given(instance))
    return max(best, _longest_alone(instance, best))


def hulls(instance: Instance) -> list[tuple[list[list[Corner]], int]]:
    """For lines of which the cuts cover most, the corners of what each roll gives for its further use, those that no
    mixture of others beats, and how many lines are needed."""
    return [
        ([_hull([NOTHING, *stair]) for stair in _further(instance, one.stairs)], one.needed) for one in given(instance)
    ]


def cannot_fit(instance: Instance) -> bool:
    """Whether the rolls together surely give too few lines for what is to be laid on them."""
    return any(needed > sum(lines) for lines, needed in roomiest(instance))


def best_lines(instance: Instance) -> Lines:
    """The lines of which the cuts cover most."""
    return _promising(instance, Counter(instance.item_shapes))[0]


def roomiest(instance: Instance) -> list[tuple[list[int], int]]:
    """How many lines each roll gives at most, and how many the cuts cover; those they cover most of come first."""
    return [([stair[-1].lines if stair else 0 for stair in one.stairs], one.needed) for one in given(instance)]


def _longest_alone(instance: Instance, known: int) -> int:
    """Every cut must lie somewhere; where there are many shapes only the longest are tried.

    A shape is done with where it lies on one roll within the use that is ``known`` already.
    """
    most = max(1, MOST_ALONE // len(instance.rolls))
    first = max(0, len(instance.shapes) - most)
    taken = sum(roll.used for roll in instance.rolls)
    for number in range(first, len(instance.shapes)):
        alone = NEVER
        for track in instance.tracks:
            end = track.start(number, track.begin) + track.lengths[number]
            alone = min(alone, taken + max(0, end - track.roll.used))
            if alone <= known:
                break
        known = max(known, alone)
    return known


def _promising(instance: Instance, counts: Mapping[int, Fraction | int]) -> list[Lines]:
    repeat = instance.rolls[0].repeat
    if not repeat:
        return [Lines(0, 1, tuple(shape.length for shape in instance.shapes), 1)]
    totals: dict[int, Fraction | int] = defaultdict(int)
    for number, shape in enumerate(instance.shapes):
        more = shape.length % repeat
        if more:
            end = (shape.phase + more) % repeat
            totals[shape.phase] += counts[number]
            totals[end] -= counts[number]
            if end < shape.phase:
                totals[0] += counts[number]
    points = sorted(totals)
    sums = dict(zip(points, accumulate(totals[point] for point in points), strict=True))
    phases = sorted({shape.phase for shape in instance.shapes}, key=lambda x: (-sums.get(x, 0), x))
    return [_lines(instance, phase, repeat) for phase in phases[:MOST_PHASES]]


def _lines(instance: Instance, phase: int, repeat: int) -> Lines:
    covered, tails = [], []
    for shape in instance.shapes:
        first = (phase - shape.phase) % repeat
        covered.append(max(0, -((first - shape.length) // repeat)))
        tails.append((shape.length - first) % repeat or repeat)
    return Lines(phase, repeat, tuple(covered), min(tails))


def _least_for(instance: Instance, one: Given) -> int:
    """The least use of rolls that together give the lines, what is taken already counted as used."""
    taken = sum(roll.used for roll in instance.rolls)
    if len(instance.rolls) == 1:
        return max(taken, least_shared(one.stairs, one.needed, one.lines.step))
    return taken + least_shared(_further(instance, one.stairs), one.needed, one.lines.step)


def _further(instance: Instance, stairs: list[list[Corner]]) -> list[list[Corner]]:
    """The stairs with what they use beyond what is taken already."""
    return [
        [Corner(lines, max(0, use - roll.used)) for lines, use in stair]
        for roll, stair in zip(instance.rolls, stairs, strict=True)
    ]


def wasted(instance: Instance, orders: Sequence[Sequence[int]]) -> dict[int, int]:
    """How much further each roll with items on it is used than the lines they cover would need."""
    one = given(instance)[0]
    found = {}
    for roll, order in enumerate(orders):
        if order and one.stairs[roll]:
            shapes = [instance.item_shapes[item] for item in order]
            lines = sum(one.lines.covered[shape] for shape in shapes)
            needs = _read(one.stairs[roll], lines, one.lines.step)
            found[roll] = instance.tracks[roll].end(shapes) - needs
    return found


def worth_using(instance: Instance) -> dict[int, int]:
    """How far along each roll it pays to go, by number of the roll; rolls that are better left alone are not in it.

    Told by the bound, so a layout needs a little more than that here or there.
    """
    one = given(instance)[0]
    ends = worth_opening(_further(instance, one.stairs), one.needed + one.needed // 100 + 1)
    return {roll: min(end + instance.rolls[roll].used, instance.ends[roll]) for roll, end in ends.items()}


def _stairs(instance: Instance, lines: Lines) -> list[list[Corner]]:
    # Cuts side by side cover no whole number of lines each.
    whole = all(not shape.cores for shape in instance.shapes) and not instance.shares
    sums = _sums(instance, lines) if whole else 0
    least = _least_lengths(instance, lines) if whole else []
    return [_corners(roll, lines, sums, least, whole) for roll in instance.rolls]


def _least_lengths(instance: Instance, lines: Lines) -> list[int]:
    """The least length of cuts that together cover just 0, 1, 2 ... lines."""
    shortest: dict[int, int] = {}
    for shape, covered in zip(instance.shapes, lines.covered, strict=True):
        shortest[covered] = min(shape.length, shortest.get(covered, NEVER))
    shortest.pop(0, None)
    least = [0]
    for number in range(1, MOST_SHORT):
        ways = (least[number - covered] + length for covered, length in shortest.items() if covered <= number)
        least.append(min(ways, default=NEVER))
    return least


def _sums(instance: Instance, lines: Lines) -> int:
    """Numbers of lines that some cuts cover together, as the bits of a whole number; 0 when not worked out."""
    longest = max(instance.ends) // lines.step + 1
    sizes = sorted({number for number in lines.covered if 0 < number <= longest})
    shifts = sum((longest // size).bit_length() for size in sizes)
    if (
        longest > MOST_BITS
        or shifts * longest > MOST_SHIFTS * 10_000
        or not any(roll.barriers for roll in instance.rolls)
    ):
        return 0
    mask, found = (1 << (longest + 1)) - 1, 1
    for size in sizes:
        shift = size
        while shift <= longest:
            found |= (found << shift) & mask
            shift *= 2
    return found


def _corners(roll: Roll, lines: Lines, sums: int, least: list[int], whole: bool) -> list[Corner]:
    """Corners (lines given, place used up to) of the staircase of a roll."""
    corners: list[Corner] = []
    given = 0
    for start, end in _runs(roll, whole):
        first = start if lines.step == 1 else start + (roll.first_row + lines.phase - start) % lines.step
        most = max(0, -((first - end) // lines.step))
        if sums and whole and most:
            most = (sums & ((1 << (most + 1)) - 1)).bit_length() - 1
        while 0 < most < len(least) and least[most] > end - start:
            most -= 1
        if most:
            uses = first + lines.tail, first + (most - 1) * lines.step + lines.tail
            # What lies before a place that is used already is cut from cloth that is.
            corners += map(Corner, (given + 1, given + most), uses if end > roll.used else (end, end))
            given += most
    return corners


def _runs(roll: Roll, whole: bool) -> Iterable[tuple[int, int]]:
    at, last = roll.begin, roll.end or 0
    for start, end in roll.barriers if whole else roll.taken:
        if end > at and start < last:
            yield at, min(start, last)
            at = max(at, end)
    yield at, last


MOST_CHOSEN = 8
"""Strips up to which every choice of opened ones is tried."""

FINE = 128
"""Bits after the point at which two different slopes differ, as both counts of lines are below half as many bits."""


class Corner(NamedTuple):
    """So many lines are given by a roll that is used up to there."""

    lines: int
    use: int


class Edge(NamedTuple):
    """So many more lines for so much more use of a roll."""

    lines: int
    use: int
    roll: int


NOTHING = Corner(0, 0)


def least_shared(stairs: Sequence[Sequence[Corner]], needed: int, step: int) -> int:
    """A use that rolls with these staircases cannot beat; what they cannot give at all is left out of account."""
    stairs = [stair for stair in stairs if stair]
    if needed <= 0 or not stairs:
        return 0
    if len(stairs) == 1:
        return _read(stairs[0], needed, step)
    if len(stairs) > MOST_CHOSEN:
        return _cheapest(0, _sorted([[NOTHING, *stair] for stair in stairs]), needed)
    edges = _sorted(stairs)
    first = [stair[0] for stair in stairs]
    found = []
    for chosen in range(1, 1 << len(stairs)):
        mine = [number for number in range(len(stairs)) if chosen >> number & 1]
        given = sum(first[number].lines for number in mine)
        most = sum(stairs[number][-1].lines for number in mine)
        if most >= needed or chosen == (1 << len(stairs)) - 1:
            opened = sum(first[number].use for number in mine)
            found.append(_cheapest(opened, [edge for edge in edges if chosen >> edge.roll & 1], needed - given))
    return min(found)


def worth_opening(stairs: Sequence[Sequence[Corner]], needed: int) -> dict[int, int]:
    """How far each roll is used where the cheapest edges give so many lines: place by number of the roll."""
    ends: dict[int, int] = {}
    for lines, use, number in _sorted([[NOTHING, *stair] if stair else [] for stair in stairs]):
        if needed <= 0:
            break
        needed -= lines
        ends[number] = ends.get(number, 0) + use
    return ends


def _read(stair: Sequence[Corner], needed: int, step: int) -> int:
    """The place on a staircase of so many lines, going on evenly past its last corner."""
    for (_, use), (last_lines, last_use) in zip(stair[::2], stair[1::2], strict=True):
        if needed <= last_lines:
            return max(use, last_use - (last_lines - needed) * step)
    given, use = stair[-1]
    return use + (needed - given) * step


def _cheapest(opened: int, edges: Sequence[Edge], left: int) -> int:
    used = opened
    for lines, use, _ in edges:
        if left <= 0:
            break
        if lines >= left:
            return used - (-use * left // lines)
        used, left = used + use, left - lines
    return used


def _sorted(stairs: Sequence[Sequence[Corner]]) -> list[Edge]:
    """The edges of the lower hulls, the cheapest first: those of one roll come in their order along it."""
    edges = [
        Edge(b.lines - a.lines, b.use - a.use, number)
        for number, stair in enumerate(stairs)
        for a, b in pairwise(_hull(stair))
    ]
    return sorted(edges, key=lambda edge: ((edge.use << FINE) // edge.lines, edge))


def _hull(corners: Sequence[Corner]) -> list[Corner]:
    """The corners of the lower convex hull of corners in order."""
    hull: list[Corner] = []
    for point in corners:
        if hull and point.lines == hull[-1].lines:
            continue
        while len(hull) > 1 and _turns_down(hull[-2], hull[-1], point):
            hull.pop()
        hull.append(point)
    return hull


def _turns_down(a: Corner, b: Corner, c: Corner) -> bool:
    return (b.use - a.use) * (c.lines - a.lines) >= (c.use - a.use) * (b.lines - a.lines)
