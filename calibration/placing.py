"""How well a person places a mark: the setting that all predicted errors grow from."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Placing:
    """Standard uncertainties of one mark, in each direction separately.

    ``tape_in``: about two marks in three lie within this distance, along and likewise across, of where the tape says.
    ``pointing_px``: likewise for moving the light onto the mark. The defaults, 1/32 in and 1/4 px, are what a careful
    person reaches with a tape and a fine pencil (common practice, no source). For a tape read to the nearest ``d`` and
    no other error use ``Placing.read_to(d)``.
    """

    tape_in: float = 1 / 32
    pointing_px: float = 1 / 4

    def __post_init__(self) -> None:
        if not (math.isfinite(self.tape_in) and math.isfinite(self.pointing_px)):
            raise ValueError("placing errors are finite numbers")
        if self.tape_in < 0 or self.pointing_px < 0 or self.tape_in + self.pointing_px == 0:
            raise ValueError("placing errors are not below zero, and not both zero")

    @classmethod
    def read_to(cls, nearest_in: float, nearest_px: float = 1 / 4) -> Placing:
        """Placing limited by reading to the nearest step alone: ``d / sqrt 12`` (JCGM 100, from memory)."""
        return cls(nearest_in / math.sqrt(12), nearest_px / math.sqrt(12))


CAREFUL = Placing()
"""The default: a careful person with a tape and a fine pencil."""


HANDS = ((1.0, 0.9), (2.0, 0.08), (4.0, 0.02))
"""How much worse than stated a hand places marks, and how often (a setting; no source)."""
CARELESS = 4.0
"""No careful work is worse than stated by more than this."""
