"""All cuts on one roll: the order that ends earliest, exact without flaws, exact or searched with them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import prod

from jobs.model.records import dataclass
from jobs.packing.engines.ring import least_length, least_order
from jobs.packing.rolls import Roll, Shape, Track, earliest_start, end_in_order

NEVER = 1 << 200


@dataclass(frozen=True)
class Counting:
    """How many of each shape there are, and one number for each choice of how many are taken."""

    most: tuple[int, ...]

    @property
    def strides(self) -> tuple[int, ...]:
        """What one more of each shape adds to the number of a choice."""
        return tuple(prod(count + 1 for count in self.most[:number]) for number in range(len(self.most)))

    @property
    def states(self) -> int:
        """How many choices there are; the last number is that of taking all."""
        return prod(count + 1 for count in self.most)

    def taken(self, state: int) -> tuple[int, ...]:
        """How many of each shape a choice takes."""
        counts = []
        for count in self.most:
            state, taken = divmod(state, count + 1)
            counts.append(taken)
        return tuple(counts)

    def parts(self, state: int) -> list[int]:
        """The numbers of all choices that take no more of any shape than this one."""
        found = [0]
        for stride, taken in zip(self.strides, self.taken(state), strict=True):
            if taken:
                found = [part + more for more in range(0, (taken + 1) * stride, stride) for part in found]
        return found


@dataclass(frozen=True)
class Ends:
    """For every choice of shapes the earliest end of laying them, and the shape laid last then."""

    counting: Counting
    ends: list[int]
    last: list[int]

    def order(self, state: int) -> tuple[int, ...]:
        """The shapes of a choice in the order that ends earliest."""
        strides, order = self.counting.strides, []
        while state:
            order.append(self.last[state])
            state -= strides[self.last[state]]
        return tuple(reversed(order))


def earliest_ends(track: Track, most: Sequence[int], beat: int = NEVER) -> Ends:
    """The earliest end of every choice, as far as it can lead to all of them ending before ``beat``.

    Keeping the earliest end is enough: from the same choice the same shapes remain, and as a start never falls when the
    place it follows grows, whatever continues a later end, laid after the earlier end instead, ends no later.
    """
    counting = Counting(tuple(most))
    states, strides, lengths, start = counting.states, counting.strides, track.lengths, track.start
    ends, last = [beat] * states, [-1] * states
    ends[0] = track.begin
    too_late = [beat - sum(length * count for length, count in zip(lengths, most, strict=True))] * states
    shapes = [(number, strides[number], most[number] + 1, lengths[number]) for number in range(len(most))]
    for state in range(states - 1):
        at, late = ends[state], too_late[state]
        if at >= late:
            continue
        for number, stride, base, length in shapes:
            if state // stride % base == base - 1:
                continue
            then = state + stride
            end = start(number, at) + length
            too_late[then] = late + length
            if end < ends[then]:
                ends[then], last[then] = end, number
    return Ends(counting, ends, last)


def shortest_possible(roll: Roll, shapes: Sequence[Shape]) -> int:
    """A place before which the last cut cannot end, whatever the order.

    The larger of two: the exact shortest end if there were no flaws, since flaws only forbid places; and the end of
    each shape laid alone, since every cut must lie somewhere.
    """
    alone = (earliest_start(roll, shape, roll.begin) + shape.length for shape in set(shapes))
    return max(roll.begin + least_length(roll, shapes), *alone, roll.begin)


WORK = 400_000
WIDEST, NARROWEST = 200, 4

Laid = tuple[int, ...]
"""How many of each shape a part order has laid."""


def beam_order(roll: Roll, counts: Counter[Shape]) -> tuple[Shape, ...]:
    """All shapes in an order found by keeping, after every cut, the part orders that have wasted least so far.

    Part orders that have laid the same counts compete by their end alone. Where there are too many different shapes
    even for that, the shape that wastes least comes next. Same input, same answer.
    """
    shapes, most = list(counts), tuple(counts.values())
    track = Track(roll, shapes)
    total = sum(most)
    width = min(WIDEST, WORK // max(1, total * len(shapes)))
    if width < NARROWEST:
        return _least_waste_next(track, counts)
    beam: dict[Laid, tuple[int, int, int]] = {(0,) * len(shapes): (0, roll.begin, 0)}
    history: list[dict[Laid, tuple[int, int, int]]] = []
    for _ in range(total):
        history.append(beam)
        after: dict[Laid, tuple[int, int, int]] = {}
        for laid, (waste, end, _) in beam.items():
            for number, length in enumerate(track.lengths):
                if laid[number] == most[number]:
                    continue
                start = track.start(number, end)
                then = (*laid[:number], laid[number] + 1, *laid[number + 1 :])
                entry = (waste + start - end, start + length, number)
                if then not in after or entry < after[then]:
                    after[then] = entry
        beam = dict(sorted(after.items(), key=lambda item: (item[1], item[0]))[:width])
    return _trace(shapes, history, beam)


def _least_waste_next(track: Track, counts: Counter[Shape]) -> tuple[Shape, ...]:
    shapes, left = list(counts), list(counts.values())
    order, end = [], track.begin
    open_shapes = sorted(range(len(shapes)), key=lambda number: (-shapes[number].length, shapes[number]))
    while open_shapes:
        start, number = min(((track.start(one, end), one) for one in open_shapes), key=lambda entry: entry[0])
        order.append(shapes[number])
        end = start + track.lengths[number]
        left[number] -= 1
        if not left[number]:
            open_shapes.remove(number)
    return tuple(order)


def _trace(
    shapes: list[Shape], history: list[dict[Laid, tuple[int, int, int]]], last: dict[Laid, tuple[int, int, int]]
) -> tuple[Shape, ...]:
    laid = next(iter(last))
    order = []
    for beam in [last, *reversed(history)][: len(history)]:
        number = beam[laid][2]
        order.append(shapes[number])
        laid = (*laid[:number], laid[number] - 1, *laid[number + 1 :])
    return tuple(reversed(order))


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


def shortest(roll: Roll, shapes: Sequence[Shape], most_steps: int = MOST_STEPS) -> Found:
    """The order of ``shapes`` whose last cut ends earliest on the roll, however long the roll.

    Proved shortest without flaws, and with flaws while counts of equal shapes give few enough states (at most
    ``most_steps`` steps between them); otherwise some order with an honest bound. Of equally short orders the one
    given wins. Holds no state: an interrupt leaves nothing behind.
    """
    bound = shortest_possible(roll, shapes)
    best = tuple(shapes)
    end = end_in_order(roll, best)
    if end > bound:
        on_ring = tuple(shapes[number] for number in least_order(roll, shapes))
        end, best = _better((end, best), (end_in_order(roll, on_ring), on_ring))
    if end == bound:
        return Found(best, end, bound)
    counts = Counter(shapes)
    states = prod(count + 1 for count in counts.values())
    if states <= MOST_STATES and states * len(counts) <= min(most_steps, MOST_STEPS):
        order = exact_order(roll, counts, beat=end)
        if order is not None:
            end, best = end_in_order(roll, order), order
        return Found(best, end, end)
    return Found(best, end, bound)


def _better(
    first: tuple[int, tuple[Shape, ...]], second: tuple[int, tuple[Shape, ...]]
) -> tuple[int, tuple[Shape, ...]]:
    return second if second[0] < first[0] else first


def exact_order(roll: Roll, counts: Counter[Shape], beat: int) -> tuple[Shape, ...] | None:
    """The order that ends earliest of all, or None when none ends before ``beat``."""
    shapes = list(counts)
    found = earliest_ends(Track(roll, shapes), list(counts.values()), beat)
    last = found.counting.states - 1
    if last and found.last[last] < 0:
        return None
    return tuple(shapes[number] for number in found.order(last))
