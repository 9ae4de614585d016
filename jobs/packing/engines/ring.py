"""The shortest order without flaws, exact and fast: sequencing on a circle.

Wrap the cloth around a circle of one repeat ``V``. Cut ``i`` wants to start at phase ``b_i`` and leaves off at
``e_i``; going from ``i`` to ``j`` wastes ``(b_j - e_i) mod V``. This is the special case of the travelling salesman
that P. C. Gilmore and R. E. Gomory solve (*Sequencing a one state-variable machine*, Operations Research 12, 1964),
with travel in one direction only, which makes it simpler:

* The start of the cloth is one more place to leave from (phase 0 here), the end of the last cut one more place ``z``
  to arrive at. Matching all leavings to arrivals wastes ``Z + sum b - sum e`` with ``Z = w V + z``, where ``w`` counts
  the trips past phase 0: the waste depends on ``Z`` alone, and the least waste is the least ``Z`` that can be done.
  It is enough to try ``z`` at the ends of cuts, since the last trip is no waste of the order.
* ``Z`` gives the number of trips over every stretch of the circle. None may be negative. Two trips that share a point
  may swap their arrivals at no cost, which joins two closed rounds into one. So all cuts can be one round exactly when
  the stretches travelled, and the cuts as links from ``b_i`` to ``e_i``, hang together as one graph.
* A larger ``Z`` adds trips and takes none away: what hangs together goes on doing so, and the least ``Z`` is found by
  halving.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence

from jobs.model.records import dataclass
from jobs.packing.joined import Joined
from jobs.packing.rolls import Roll, Shape


@dataclass(frozen=True)
class Trip:
    """A stop of the round: it is arrived at in one place and left from another, both on one line."""

    leave: int
    arrive: int


def one_round(stops: Sequence[Trip]) -> list[int]:
    """For each stop the one that follows it, all in one round, never travelling backwards.

    The line is walked once. Whoever is under way at the same place may swap arrivals without changing what is travelled
    there or elsewhere; swapping between two rounds joins them. Raises ValueError when no single round exists.
    """
    following = _first_matching(stops)
    group = list(range(len(stops)))

    def find(node: int) -> int:
        while group[node] != node:
            group[node] = group[group[node]]
            node = group[node]
        return node

    for number, after in enumerate(following):
        group[find(number)] = find(after)
    leaving = defaultdict(list)
    for number, stop in enumerate(stops):
        leaving[stop.leave].append(number)
    under_way: list[int] = []
    for place in sorted({stop.leave for stop in stops} | {stop.arrive for stop in stops}):
        under_way += leaving[place]
        by_round = {find(number): number for number in under_way}
        chosen = list(by_round.values())
        arrivals = [following[number] for number in chosen]
        for number, arrival in zip(chosen, arrivals[1:] + arrivals[:1], strict=True):
            following[number] = arrival
            group[find(number)] = find(chosen[0])
        under_way = [number for number in under_way if stops[following[number]].arrive > place]
    if len({find(number) for number in range(len(stops))}) > 1:
        raise ValueError("the stops do not hang together")
    return following


def _first_matching(stops: Sequence[Trip]) -> list[int]:
    """Leavings and arrivals, each in order of place, paired one to one."""
    leaving = sorted(range(len(stops)), key=lambda number: stops[number].leave)
    arriving = sorted(range(len(stops)), key=lambda number: stops[number].arrive)
    following = [0] * len(stops)
    for first, second in zip(leaving, arriving, strict=True):
        if stops[first].leave > stops[second].arrive:
            raise ValueError("an arrival lies behind every leaving left for it")
        following[first] = second
    return following


def least_length(roll: Roll, shapes: Sequence[Shape]) -> int:
    """The least distance from ``roll.begin`` to the end of the last cut, flaws left out of account."""
    total = sum(shape.length for shape in shapes)
    return total if not roll.repeat or not shapes else total + _Circle(roll, shapes).least_waste()


def least_order(roll: Roll, shapes: Sequence[Shape]) -> list[int]:
    """An order (indices into ``shapes``) that attains ``least_length`` on cloth without flaws."""
    return list(range(len(shapes))) if not roll.repeat or not shapes else _Circle(roll, shapes).order()


class _Circle:
    """One problem on the circle, phases counted from where the cloth begins."""

    def __init__(self, roll: Roll, shapes: Sequence[Shape]) -> None:
        self.repeat = roll.repeat
        offset = roll.first_row - roll.begin
        self.arrive = [(offset + shape.phase) % self.repeat for shape in shapes]
        self.leave = [(start + shape.length) % self.repeat for start, shape in zip(self.arrive, shapes, strict=True)]
        self.points = sorted({0, *self.arrive, *self.leave})
        self.rank = {point: number for number, point in enumerate(self.points)}
        arriving, leaving = Counter(self.arrive), Counter(self.leave)
        self.trips = []
        running = 1
        for point in self.points:
            running += leaving[point] - arriving[point]
            self.trips.append(running)
        self.links = {(self.rank[start], self.rank[end]) for start, end in zip(self.arrive, self.leave, strict=True)}

    def least_waste(self) -> int:
        rounds, last = self._least()
        return rounds * self.repeat + last + sum(self.arrive) - sum(self.leave)

    def order(self) -> list[int]:
        rounds, last = self._least()
        count = len(self.arrive)
        trips = [Trip(leave, arrive) for leave, arrive in zip(self.leave, self.arrive, strict=True)]
        trips.append(Trip(leave=0, arrive=last))
        trips += [Trip(leave=0, arrive=self.repeat)] * rounds
        following = one_round(trips)
        order, at = [], following[count]
        while at != count:
            if at < count:
                order.append(at)
            at = following[at]
        return order

    def _least(self) -> tuple[int, int]:
        """The least (trips past phase 0, phase of the end of the last cut) that makes one round."""
        lowest = max(0, -min(self.trips))
        ends = sorted(set(self.leave))
        candidates = [(rounds, end) for rounds in range(lowest, lowest + 3) for end in ends]
        low, high = 0, len(candidates) - 1
        while low < high:
            middle = (low + high) // 2
            if self._hangs_together(*candidates[middle]):
                high = middle
            else:
                low = middle + 1
        return candidates[low]

    def _hangs_together(self, rounds: int, last: int) -> bool:
        """Whether the trips are possible and, with the cuts as links, one graph."""
        count, last_rank = len(self.points), self.rank[last]
        joined = Joined(count)
        for number, base in enumerate(self.trips):
            trips = base + rounds - (number >= last_rank)
            if trips < 0:
                return False
            if trips:
                joined.join(number, (number + 1) % count)
        joined.join(0, last_rank)
        for start, end in self.links:
            joined.join(start, end)
        return joined.is_one
