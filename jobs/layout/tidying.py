"""An order that a person can follow, where it costs no cloth."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from jobs.layout.placing import Track
from jobs.plan import Way

MOST_STEPS = 40_000
"""Cuts laid while looking for a tidier order of one strip."""

Kind = tuple[int, Way, int]
"""Number of the shape, the way it lies, and the place of its window in the job."""


def tidied(track: Track, order: Sequence[Kind]) -> list[int]:
    """Numbers into ``order``: no later end, as few changes of way as small moves give, then windows in their order.

    The order of the job is tried as it stands and with each way kept together; then single cuts are moved.
    """
    numbers = list(range(len(order)))
    end = track.end([kind[0] for kind in order])
    by_job = sorted(numbers, key=lambda number: order[number][2])
    by_way = sorted(numbers, key=lambda number: (order[number][1] is Way.UPRIGHT, order[number][1], order[number][2]))
    tries = [by_job, by_way[::1], sorted(by_way, key=lambda number: order[number][1] is not Way.UPRIGHT), numbers]
    best = min((one for one in tries if _end(track, order, one) <= end), key=lambda one: _untidy(order, one))
    steps = MOST_STEPS // (len(order) * len(order) + 1)
    better = True
    while better and steps > 0:
        better = False
        for moved in _moves(best):
            if _untidy(order, moved) < _untidy(order, best):
                steps -= 1
                if _end(track, order, moved) <= end:
                    best, better = moved, True
                    break
                if steps <= 0:
                    break
    return best


def _moves(order: list[int]) -> list[list[int]]:
    """Every order with one cut moved elsewhere."""
    found = []
    for place in range(len(order)):
        rest = order[:place] + order[place + 1 :]
        found += [[*rest[:to], order[place], *rest[to:]] for to in range(len(order)) if to != place]
    return found


def _end(track: Track, order: Sequence[Kind], numbers: Sequence[int]) -> int:
    return track.end([order[number][0] for number in numbers])


def _untidy(order: Sequence[Kind], numbers: Sequence[int]) -> tuple[int, int, int]:
    """Changes of way, changes of window, and steps back in the order of the windows."""
    kinds = [order[number] for number in numbers]
    ways = sum(a[1] is not b[1] for a, b in pairwise(kinds))
    windows = sum(a[2] != b[2] for a, b in pairwise(kinds))
    back = sum(a[2] > b[2] for a, b in pairwise(kinds))
    return ways, windows, back
