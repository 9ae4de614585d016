"""The least use of several strips that together give so many lines.

A strip's staircase is a list of corners (lines given, place used up to): two for every run between flaws, its first
line and its last, rising by one step for each line between them. One staircase is read off exactly. For several, each
is replaced by its lower convex hull, which never lies above it: then the cheapest edges are taken first. What opening a
strip costs is kept whole where there are few strips, by trying every choice of opened ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

MOST_CHOSEN = 8
"""Strips up to which every choice of opened ones is tried."""

FINE = 128
"""Bits after the point at which two different slopes differ, as both counts of lines are below half as many bits."""

Corner = tuple[int, int]
Edge = tuple[int, int, int]
"""Lines, use, and the number of the strip."""


def least_shared(stairs: Sequence[Sequence[Corner]], needed: int, step: int) -> int:
    """A use that strips with these staircases cannot beat; what they cannot give at all is left out of account."""
    stairs = [stair for stair in stairs if stair]
    if needed <= 0 or not stairs:
        return 0
    if len(stairs) == 1:
        return _read(stairs[0], needed, step)
    if len(stairs) > MOST_CHOSEN:
        return _cheapest(0, _sorted([[(0, 0), *stair] for stair in stairs]), needed)
    edges = _sorted(stairs)
    first = [stair[0] for stair in stairs]
    found = []
    for chosen in range(1, 1 << len(stairs)):
        mine = [number for number in range(len(stairs)) if chosen >> number & 1]
        given = sum(first[number][0] for number in mine)
        most = sum(stairs[number][-1][0] for number in mine)
        if most >= needed or chosen == (1 << len(stairs)) - 1:
            opened = sum(first[number][1] for number in mine)
            found.append(_cheapest(opened, [edge for edge in edges if chosen >> edge[2] & 1], needed - given))
    return min(found)


def worth_opening(stairs: Sequence[Sequence[Corner]], needed: int) -> dict[int, int]:
    """How far each strip is used where the cheapest edges give so many lines: place by number of the strip."""
    ends: dict[int, int] = {}
    for lines, use, number in _sorted([[(0, 0), *stair] if stair else [] for stair in stairs]):
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
    """The edges of the lower hulls, the cheapest first: those of one strip come in their order along it."""
    edges = [(*edge, number) for number, stair in enumerate(stairs) for edge in _hull(stair)]
    return sorted(edges, key=lambda edge: ((edge[1] << FINE) // edge[0], edge))


def _hull(corners: Sequence[Corner]) -> list[Corner]:
    """Edges (lines, use) of the lower convex hull of corners in order."""
    hull: list[Corner] = []
    for point in corners:
        if hull and point[0] == hull[-1][0]:
            continue
        while len(hull) > 1 and _turns_down(hull[-2], hull[-1], point):
            hull.pop()
        hull.append(point)
    return [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(hull)]


def _turns_down(a: Corner, b: Corner, c: Corner) -> bool:
    return (b[1] - a[1]) * (c[0] - a[0]) >= (c[1] - a[1]) * (b[0] - a[0])
