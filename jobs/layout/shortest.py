"""The order of cuts on one piece that ends earliest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

from jobs.layout.beam import beam_order
from jobs.layout.bound import shortest_possible
from jobs.layout.placing import Shape, Strip, earliest_start, end_in_order
from jobs.layout.ring import least_order

MOST_STATES = 300_000
MOST_STEPS = 2_000_000


@dataclass(frozen=True)
class Found:
    """An order of the shapes, where its last cut ends, what no order can beat; ``proved`` when the two meet."""

    order: tuple[Shape, ...]
    end: int
    bound: int

    @property
    def proved(self) -> bool:
        return self.end == self.bound


def shortest(strip: Strip, shapes: Sequence[Shape], most_states: int = MOST_STATES) -> Found:
    """The order of ``shapes`` whose last cut ends earliest on the strip, however long the strip.

    Proved shortest without flaws, and with flaws while counts of equal shapes give at most ``most_states`` states
    (and MOST_STEPS steps between them); otherwise a good order with an honest bound. Of equally short orders the one
    given wins. Holds no state: an interrupt leaves nothing behind.
    """
    bound = shortest_possible(strip, shapes)
    best = tuple(shapes)
    end = end_in_order(strip, best)
    if end > bound:
        on_ring = tuple(shapes[number] for number in least_order(strip, shapes))
        end, best = _better((end, best), (end_in_order(strip, on_ring), on_ring))
    if end == bound:
        return Found(best, end, bound)
    counts = Counter(shapes)
    states = prod(count + 1 for count in counts.values())
    if states <= most_states and states * len(counts) <= MOST_STEPS:
        order = exact_order(strip, counts, beat=end)
        if order is not None:
            end, best = end_in_order(strip, order), order
        return Found(best, end, end)
    order = beam_order(strip, counts)
    end, best = _better((end, best), (end_in_order(strip, order), order))
    return Found(best, end, bound)


def _better(
    first: tuple[int, tuple[Shape, ...]], second: tuple[int, tuple[Shape, ...]]
) -> tuple[int, tuple[Shape, ...]]:
    return second if second[0] < first[0] else first


def exact_order(strip: Strip, counts: Counter[Shape], beat: int) -> tuple[Shape, ...] | None:
    """The order that ends earliest of all, or None when none ends before ``beat``.

    A dynamic programme over how many of each shape are laid, keeping the earliest end for each. That is enough: from
    the same counts the same shapes remain, and as a start never falls when the place it follows grows, whatever
    continues a later end, laid after the earlier end instead, ends no later. So the earlier end is never worse.
    """
    shapes, most = list(counts), list(counts.values())
    strides = [prod(count + 1 for count in most[:number]) for number in range(len(most))]
    states = prod(count + 1 for count in most)
    ends, came_by = [beat] * states, [-1] * states
    ends[0] = strip.begin
    too_late = [beat - sum(shape.length * count for shape, count in counts.items())] * states
    for state in range(states - 1):
        if ends[state] >= too_late[state]:
            continue
        for number, shape in enumerate(shapes):
            if state // strides[number] % (most[number] + 1) == most[number]:
                continue
            then = state + strides[number]
            end = earliest_start(strip, shape, ends[state]) + shape.length
            too_late[then] = too_late[state] + shape.length
            if end < ends[then]:
                ends[then], came_by[then] = end, number
    if came_by[-1] < 0:
        return None
    order, state = [], states - 1
    while state:
        order.append(shapes[came_by[state]])
        state -= strides[came_by[state]]
    return tuple(reversed(order))
