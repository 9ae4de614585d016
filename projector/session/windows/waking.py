"""Telling that the computer has slept: the loop wakes every second, so a long gap between two wakings is a sleep."""

from __future__ import annotations

from dataclasses import dataclass

WAKE_EVERY_S = 1.0
SLEPT_S = 30.0
"""A gap longer than this is taken for a sleep: no frame takes as long, and anybody may have passed the table since."""


@dataclass
class Wakings:
    """The clocks at the last waking: one that may stand still while the computer sleeps, and the wall's."""

    steady_s: float
    wall_s: float

    def slept_s(self, steady_s: float, wall_s: float) -> float:
        """How long the computer slept since the last waking; 0 when it did not.

        Which clock stands still in sleep differs from system to system, so the longer gap counts. A wall clock that
        is put back tells nothing.
        """
        gap = max(steady_s - self.steady_s, wall_s - self.wall_s)
        self.steady_s, self.wall_s = steady_s, wall_s
        return gap if gap > SLEPT_S else 0.0
