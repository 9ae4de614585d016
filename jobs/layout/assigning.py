"""Which cut of several equal ones goes where, so that a person can follow the piece."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from jobs.layout.placing import Shape
from jobs.plan import Cut


def assigned(order: Iterable[Shape], cuts: Sequence[Cut], shapes: Sequence[Shape]) -> tuple[Cut, ...]:
    """A cut for each shape of ``order``: the panels of one window next to each other where shapes allow.

    ``cuts`` in the order of the job, with their ``shapes``. Among equal shapes one of the same window as the cut before
    comes first, then the one that stands first in the job.
    """
    free: dict[Shape, list[tuple[int, Cut]]] = {}
    for number, (cut, shape) in enumerate(zip(cuts, shapes, strict=True)):
        free.setdefault(shape, []).append((number, cut))
    chosen: list[Cut] = []
    for shape in order:
        last = chosen[-1] if chosen else None
        number, cut = min(free[shape], key=lambda entry: (last is None or entry[1].window != last.window, entry[0]))
        free[shape].remove((number, cut))
        chosen.append(cut)
    return tuple(chosen)
