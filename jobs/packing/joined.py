"""What hangs together: numbers joined pair by pair (the forest of B. A. Galler and M. J. Fischer, 1964)."""

from __future__ import annotations


class Joined:
    """So many numbers, from 0, each by itself until it is joined."""

    def __init__(self, count: int) -> None:
        self._above = list(range(count))

    def join(self, one: int, other: int) -> None:
        """From now on the two hang together, with all that hangs on either."""
        self._above[self._top(one)] = self._top(other)

    @property
    def is_one(self) -> bool:
        """Whether all hang together."""
        return len({self._top(number) for number in range(len(self._above))}) == 1

    def _top(self, number: int) -> int:
        above = self._above
        while above[number] != number:
            above[number] = above[above[number]]
            number = above[number]
        return number
