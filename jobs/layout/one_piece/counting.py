"""The earliest end of every part of the cuts: a dynamic programme over how many of each shape are laid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

from jobs.layout.placing import Track

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
