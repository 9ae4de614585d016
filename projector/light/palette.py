"""Look-up tables of packed pixel values, one pair for every colour in use."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from projector.light.encoding import Packed, packed_values, tent_step

EDGE_STEPS = 512
"""Table entries for a pixel of distance to an edge."""
EDGE_REACH = 3
"""The edge table begins this many pixels outside the edge: a band is never rounded up by more."""
EDGE_LENGTH = (EDGE_REACH + 1) * EDGE_STEPS + 1
COVERAGE_STEPS = 4096
COVERAGE_LENGTH = COVERAGE_STEPS + 1
NARROW_STEPS = 256
"""Steps a pixel of the table for lines less than two pixels wide, in distance and in half width."""
NARROW_LENGTH = EDGE_REACH * NARROW_STEPS + 1


@lru_cache(maxsize=1)
def narrow_levels() -> NDArray[np.intp]:
    """Coverage, in ``COVERAGE_STEPS``, of a line of half width up to 1 px, flat: row by half width, column by distance
    from the line's middle."""
    half = (np.arange(NARROW_STEPS + 1) / NARROW_STEPS).astype(np.float32)[:, None]
    distance = (np.arange(NARROW_LENGTH) / NARROW_STEPS).astype(np.float32)
    coverage = tent_step(half - distance) + tent_step(half + distance) - 1.0
    return np.rint(coverage * COVERAGE_STEPS).astype(np.intp).ravel()


@dataclass
class Palette:
    """Tables for the colours met so far: by distance inside an edge, and by coverage; rows follow ``numbers``."""

    gamma: float
    numbers: dict[int, int] = field(default_factory=dict)
    by_edge: Packed = field(default_factory=lambda: np.zeros(0, np.uint32))
    by_coverage: Packed = field(default_factory=lambda: np.zeros(0, np.uint32))

    def rows_of(self, colours: NDArray[np.uint32]) -> NDArray[np.intp]:
        """Row of each colour (0xRRGGBB), adding tables for new ones."""
        found, back = np.unique(colours, return_inverse=True)
        return np.array([self.row_of(int(colour)) for colour in found], np.intp)[back]

    def row_of(self, colour: int) -> int:
        """Row of one colour."""
        if colour not in self.numbers:
            offsets = (np.arange(EDGE_LENGTH) / EDGE_STEPS - EDGE_REACH).astype(np.float32)
            coverage = (np.arange(COVERAGE_LENGTH) / COVERAGE_STEPS).astype(np.float32)
            edge = packed_values(tent_step(offsets), colour, self.gamma)
            self.by_edge = np.concatenate([self.by_edge, edge])
            self.by_coverage = np.concatenate([self.by_coverage, packed_values(coverage, colour, self.gamma)])
            self.numbers[colour] = len(self.numbers)
        return self.numbers[colour]
