"""Matching leavings to arrivals on a line, forward only, and joining the closed rounds into one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass


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
