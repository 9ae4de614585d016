"""Which cut of several equal ones goes where, so that a person can follow the piece."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from heapq import heappop

from jobs.layout.lanes import Lane
from jobs.layout.placing import Shape
from jobs.plan import Way


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
