"""What bare cloth between two cuts costs, by where in the repeat it lies.

The lines at a residue that the cuts cover most of are the ones that run short (``many.bound``): cloth left bare there
is dear, elsewhere it is cheap, because some must lie bare there anyhow. The price of a residue falls with how many
fewer lines the cuts cover there than at the dearest; all prices around the repeat average one.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping

from jobs.layout.many.house import House


def worths(house: House, counts: Mapping[int, int]) -> list[int]:
    """For each shape the bare cloth it saves, at its price: what laying it is worth, in grains.

    ``counts`` says how many of each shape are still to be laid. On plain cloth a cut is worth its length.
    """
    repeat = house.strips[0].repeat
    if not repeat:
        return [shape.length for shape in house.shapes]
    points, masses = _masses(house, counts, repeat)

    def mass(residue: int) -> float:
        number = bisect_right(points, residue) - 1
        low, high = points[number], points[number + 1] if number + 1 < len(points) else repeat
        share = (residue - low) / (high - low)
        return masses[number] + share * (masses[number + 1] - masses[number])

    found = []
    for shape in house.shapes:
        whole, more = divmod(shape.length, repeat)
        start, end = mass(shape.residue), mass((shape.residue + more) % repeat)
        arc = (end - start) % masses[-1] if more else 0.0
        found.append(whole * repeat + round(repeat * arc / masses[-1]))
    return found


def _masses(house: House, counts: Mapping[int, int], repeat: int) -> tuple[list[int], list[float]]:
    """Residues in order, and the sum of prices from residue 0 up to each of them and to the repeat."""
    steps = {0: 0}
    for number, count in counts.items():
        shape = house.shapes[number]
        more = shape.length % repeat
        if more and count:
            end = (shape.residue + more) % repeat
            steps[shape.residue] = steps.get(shape.residue, 0) + count
            steps[end] = steps.get(end, 0) - count
            if end < shape.residue:
                steps[0] += count
    points = sorted(steps)
    covered, cover = [], 0
    for point in points:
        cover += steps[point]
        covered.append(cover)
    dearest, soft = max(covered), 1.0 + math.sqrt(sum(counts.values()))
    sums = [0.0]
    for point, after, cover in zip(points, [*points[1:], repeat], covered, strict=True):
        sums.append(sums[-1] + (after - point) * max(1e-6, math.exp((cover - dearest) / soft)))
    return points, sums
