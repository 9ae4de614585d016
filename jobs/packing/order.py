"""Which of several equal cuts goes where, and an order that a person can follow, where it costs no cloth."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from heapq import heappop
from itertools import pairwise
from typing import NamedTuple

from jobs.model.cuts import Way
from jobs.packing.items import Lane
from jobs.packing.rolls import Shape, Track


def assigned(order: Iterable[Shape], lanes: Sequence[Lane], shapes: Sequence[Shape]) -> tuple[Lane, ...]:
    """A lane for each shape of ``order``: ways kept together, then the panels of one window, where shapes allow.

    ``lanes`` in the order of the job, with their ``shapes``. Among equal shapes one that lies the same way as the lane
    before comes first, then one of the same window, then the one that stands first in the job.
    """
    free: dict[tuple[Shape, Way], _Free] = {}
    for number, (lane, shape) in enumerate(zip(lanes, shapes, strict=True)):
        free.setdefault((shape, lane[0].way), _Free()).add(number, lane[0].window)
    taken = [False] * len(lanes)
    chosen: list[Lane] = []
    for shape in order:
        last = chosen[-1][0] if chosen else None
        ways = sorted(Way, key=lambda way: last is not None and way is not last.way)
        found = ((free[shape, way].next(last.window if last else "", taken)) for way in ways if (shape, way) in free)
        number = next(number for number in found if number is not None)
        taken[number] = True
        chosen.append(lanes[number])
    return tuple(chosen)


class _Free:
    """Numbers of equal lanes not yet taken, by window and all together."""

    def __init__(self) -> None:
        self.all: list[int] = []
        self.windows: dict[str, deque[int]] = {}

    def add(self, number: int, window: str) -> None:
        self.all.append(number)
        self.windows.setdefault(window, deque()).append(number)

    def next(self, window: str, taken: Sequence[bool]) -> int | None:
        """The first one of the window, or the first of all; None when there is none."""
        own = self.windows.get(window)
        while own and taken[own[0]]:
            own.popleft()
        if own:
            return own[0]
        while self.all and taken[self.all[0]]:
            heappop(self.all)
        return self.all[0] if self.all else None


MOST_STEPS = 40_000
"""Cuts laid while looking for a tidier order of one roll."""


class Lying(NamedTuple):
    """A lane on a roll: the number of its shape, the way it lies, and the place of its window in the job."""

    shape: int
    way: Way
    window: int


def tidied(track: Track, order: Sequence[Lying]) -> list[int]:
    """Numbers into ``order``: no later end, as few changes of way as small moves give, then windows in their order.

    The order of the job is tried as it stands and with each way kept together; then single cuts are moved.
    """
    numbers = list(range(len(order)))
    end = track.end([lying.shape for lying in order])
    by_job = sorted(numbers, key=lambda number: order[number].window)
    by_way = sorted(
        numbers, key=lambda number: (order[number].way is Way.UPRIGHT, order[number].way, order[number].window)
    )
    tries = [by_job, by_way, sorted(by_way, key=lambda number: order[number].way is not Way.UPRIGHT), numbers]
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


def _moves(order: list[int]) -> Iterator[list[int]]:
    """Every order with one cut moved elsewhere."""
    for place in range(len(order)):
        rest = order[:place] + order[place + 1 :]
        for to in range(len(order)):
            if to != place:
                yield [*rest[:to], order[place], *rest[to:]]


def _end(track: Track, order: Sequence[Lying], numbers: Sequence[int]) -> int:
    return track.end([order[number].shape for number in numbers])


def _untidy(order: Sequence[Lying], numbers: Sequence[int]) -> tuple[int, int, int]:
    """Changes of way, changes of window, and steps back in the order of the windows."""
    lying = [order[number] for number in numbers]
    ways = sum(a.way is not b.way for a, b in pairwise(lying))
    windows = sum(a.window != b.window for a, b in pairwise(lying))
    back = sum(a.window > b.window for a, b in pairwise(lying))
    return ways, windows, back
