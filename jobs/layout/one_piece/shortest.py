"""The order of cuts on one piece that ends earliest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

from jobs.layout.one_piece.beam import beam_order
from jobs.layout.one_piece.bound import shortest_possible
from jobs.layout.one_piece.counting import earliest_ends
from jobs.layout.one_piece.ring import least_order
from jobs.layout.placing import Shape, Strip, Track, end_in_order

MOST_STATES = 300_000
MOST_STEPS = 2_000_000
MOST_BEAMED = 400


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
    if len(shapes) > MOST_BEAMED:
        return Found(best, end, bound)
    order = beam_order(strip, counts)
    end, best = _better((end, best), (end_in_order(strip, order), order))
    return Found(best, end, bound)


def _better(
    first: tuple[int, tuple[Shape, ...]], second: tuple[int, tuple[Shape, ...]]
) -> tuple[int, tuple[Shape, ...]]:
    return second if second[0] < first[0] else first


def exact_order(strip: Strip, counts: Counter[Shape], beat: int) -> tuple[Shape, ...] | None:
    """The order that ends earliest of all, or None when none ends before ``beat``."""
    shapes = list(counts)
    found = earliest_ends(Track(strip, shapes), list(counts.values()), beat)
    last = found.counting.states - 1
    if last and found.last[last] < 0:
        return None
    return tuple(shapes[number] for number in found.order(last))
