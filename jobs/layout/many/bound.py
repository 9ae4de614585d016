"""What no layout on the strips can beat.

Patterned cloth: choose a residue ``x`` of the repeat ``V`` and look at the lines of the cloth that lie there. Every cut
covers a fixed number of such lines wherever it is laid, for it starts on its own place in the repeat; and a line is
covered by one cut at most. So the strips together must give as many lines as the cuts cover, and a strip that gives
``N`` lines is used at least up to the ``N``-th of them and what the cut on it still takes. On plain cloth every grain
is such a line. Every ``x`` gives a bound and the largest is taken. (It is the dual of matching ends of cuts to starts.)

Between two flaws over the full width only whole sets of cuts can lie: no more lines than the largest sum of cuts that
fits, by the lines it covers and by its length. How the lines are shared among the strips is worked out in
``many.staircase``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import accumulate

from jobs.layout.many.house import House
from jobs.layout.many.staircase import least_shared, worth_opening
from jobs.layout.placing import Strip

MOST_RESIDUES = 24
MOST_ALONE = 20_000
MOST_BITS = 400_000
MOST_SHIFTS = 4_000
MOST_SHORT = 200
NEVER = 1 << 200


@dataclass(frozen=True)
class Lines:
    """A residue (1 apart and 0 on plain cloth), how many lines each shape covers, and the least a last line leaves."""

    residue: int
    step: int
    covered: tuple[int, ...]
    tail: int


def least_used(house: House) -> int:
    """A total use that no layout can beat, however long the strips reach beyond their ends when ``house`` says so."""
    counts = Counter(house.item_shapes)
    best = 0
    for lines in _promising(house, counts):
        needed = sum(lines.covered[number] * count for number, count in counts.items())
        best = max(best, _least_for(house, lines, needed))
    return max(best, _longest_alone(house))


def best_lines(house: House) -> Lines:
    """The lines of which the cuts cover most."""
    return _promising(house, Counter(house.item_shapes))[0]


def _longest_alone(house: House) -> int:
    """Every cut must lie somewhere; where there are many shapes only the longest are tried."""
    most = max(1, MOST_ALONE // len(house.strips))
    first = max(0, len(house.shapes) - most)
    taken = sum(strip.used for strip in house.strips)
    return taken + max(
        min(
            max(0, track.start(number, track.begin) + track.lengths[number] - track.strip.used)
            for track in house.tracks
        )
        for number in range(first, len(house.shapes))
    )


def _promising(house: House, counts: Counter[int]) -> list[Lines]:
    repeat = house.strips[0].repeat
    if not repeat:
        return [Lines(0, 1, tuple(shape.length for shape in house.shapes), 1)]
    totals: Counter[int] = Counter()
    for number, shape in enumerate(house.shapes):
        more = shape.length % repeat
        if more:
            end = (shape.residue + more) % repeat
            totals[shape.residue] += counts[number]
            totals[end] -= counts[number]
            if end < shape.residue:
                totals[0] += counts[number]
    points = sorted(totals)
    sums = dict(zip(points, accumulate(totals[point] for point in points), strict=True))
    residues = sorted({shape.residue for shape in house.shapes}, key=lambda x: (-sums.get(x, 0), x))
    return [_lines(house, residue, repeat) for residue in residues[:MOST_RESIDUES]]


def _lines(house: House, residue: int, repeat: int) -> Lines:
    covered, tails = [], []
    for shape in house.shapes:
        first = (residue - shape.residue) % repeat
        covered.append(max(0, -((first - shape.length) // repeat)))
        tails.append((shape.length - first) % repeat or repeat)
    return Lines(residue, repeat, tuple(covered), min(tails))


def _least_for(house: House, lines: Lines, needed: int) -> int:
    """The least use of strips that together give the lines, what is taken already counted as used."""
    taken = sum(strip.used for strip in house.strips)
    if len(house.strips) == 1:
        return max(taken, least_shared(_stairs(house, lines), needed, lines.step))
    return taken + least_shared(_further(house, _stairs(house, lines)), needed, lines.step)


def _further(house: House, stairs: list[list[tuple[int, int]]]) -> list[list[tuple[int, int]]]:
    """The stairs with what they use beyond what is taken already."""
    return [
        [(lines, max(0, use - strip.used)) for lines, use in stair]
        for strip, stair in zip(house.strips, stairs, strict=True)
    ]


def worth_using(house: House) -> dict[int, int]:
    """How far along each strip it pays to go, by number of the strip; strips that are better left alone are not in it.

    Told by the bound, so a layout needs a little more than that here or there.
    """
    lines = best_lines(house)
    needed = sum(lines.covered[number] for number in house.item_shapes)
    ends = worth_opening(_further(house, _stairs(house, lines)), needed + needed // 100 + 1)
    return {strip: min(end + house.strips[strip].used, house.ends[strip]) for strip, end in ends.items()}


def _stairs(house: House, lines: Lines) -> list[list[tuple[int, int]]]:
    whole = all(not shape.cores for shape in house.shapes)
    sums = _sums(house, lines) if whole else 0
    least = _least_lengths(house, lines) if whole else []
    return [_corners(strip, lines, sums, least, whole) for strip in house.strips]


def _least_lengths(house: House, lines: Lines) -> list[int]:
    """The least length of cuts that together cover just 0, 1, 2 ... lines."""
    shortest: dict[int, int] = {}
    for shape, covered in zip(house.shapes, lines.covered, strict=True):
        shortest[covered] = min(shape.length, shortest.get(covered, NEVER))
    shortest.pop(0, None)
    least = [0]
    for number in range(1, MOST_SHORT):
        ways = (least[number - covered] + length for covered, length in shortest.items() if covered <= number)
        least.append(min(ways, default=NEVER))
    return least


def _sums(house: House, lines: Lines) -> int:
    """Numbers of lines that some cuts cover together, as the bits of a whole number; 0 when not worked out."""
    longest = max(house.ends) // lines.step + 1
    sizes = sorted({number for number in lines.covered if 0 < number <= longest})
    shifts = sum((longest // size).bit_length() for size in sizes)
    if (
        longest > MOST_BITS
        or shifts * longest > MOST_SHIFTS * 10_000
        or not any(strip.barriers for strip in house.strips)
    ):
        return 0
    mask, found = (1 << (longest + 1)) - 1, 1
    for size in sizes:
        shift = size
        while shift <= longest:
            found |= (found << shift) & mask
            shift *= 2
    return found


def _corners(strip: Strip, lines: Lines, sums: int, least: list[int], whole: bool) -> list[tuple[int, int]]:
    """Corners (lines given, place used up to) of the staircase of a strip."""
    corners: list[tuple[int, int]] = []
    given = 0
    for start, end in _runs(strip, whole):
        first = start if lines.step == 1 else start + (strip.first_row + lines.residue - start) % lines.step
        most = max(0, -((first - end) // lines.step))
        if sums and whole and most:
            most = (sums & ((1 << (most + 1)) - 1)).bit_length() - 1
        while 0 < most < len(least) and least[most] > end - start:
            most -= 1
        if most:
            uses = first + lines.tail, first + (most - 1) * lines.step + lines.tail
            # What lies before a place that is used already is cut from cloth that is.
            corners += zip((given + 1, given + most), uses if end > strip.used else (end, end), strict=True)
            given += most
    return corners


def _runs(strip: Strip, whole: bool) -> Iterable[tuple[int, int]]:
    at, last = strip.begin, strip.end or 0
    for start, end in strip.barriers if whole else strip.taken:
        if end > at and start < last:
            yield at, min(start, last)
            at = max(at, end)
    yield at, last
