"""Coverage to pixel values: the encoding, and look-up tables of packed values for every colour in use.

Projected light is (value / 255) ** gamma, so coverage is encoded before it is stored.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from projector.light.raster.arrays import Indices, Packed, Singles

COLOUR_BITS = 0xFFFFFF
"""The lower 24 bits of a packed value are 0x00RRGGBB; the top byte holds coverage while a frame is being drawn."""


def tent_step(offset_px: Singles) -> Singles:
    """Share of a tent filter (half width 1 px, area 1) that lies on the covered side of an edge.

    ``offset_px`` is how far the pixel centre lies inside the edge, any shape; the result is in [0, 1].
    A tent sums to one over whole-pixel steps and keeps first moments (it is the linear B-spline), which is why the
    centroid of a line drawn with it is exact at every sub-pixel place.
    """
    share = _beyond_half(offset_px)
    share += np.float32(0.5)
    return share


def between_steps(near_px: Singles, far_px: Singles) -> Singles:
    """Share of the filter that lies between two edges, the pixel centre so far inside each: their steps less one."""
    share = _beyond_half(near_px)
    share += _beyond_half(far_px)
    return share


def _beyond_half(offset_px: Singles) -> Singles:
    """How much more than half of the filter lies on the covered side, in [-1/2, 1/2]."""
    inside = np.clip(offset_px, np.float32(-1.0), np.float32(1.0))
    share = np.abs(inside)
    share *= np.float32(-0.5)
    share += np.float32(1.0)
    share *= inside
    return share


def packed_values(coverage: Singles, colour: int, gamma: float) -> Packed:
    """Packed pixel values 0xCCRRGGBB for coverage in [0, 1] of a frame otherwise dark; CC is the encoded coverage, so
    that values of one colour sort by coverage and, between colours, the most covered wins a plain maximum."""
    covered = np.clip(coverage, 0.0, 1.0).astype(np.float64)
    light = covered ** (1.0 / gamma)
    packed = np.rint(light * 255).astype(np.uint32) << np.uint32(24)
    for shift in (16, 8, 0):
        level = colour >> shift & 255
        packed |= np.rint(light * level).astype(np.uint32) << np.uint32(shift)
    return packed


EDGE_STEPS = 512
"""Table entries for a pixel of distance to an edge."""
EDGE_REACH = 3
"""The edge table begins this many pixels outside the edge."""
EDGE_INSIDE = 3
"""It ends this many pixels inside: coverage is full from 1 px on, and a row more is a step along the table."""
EDGE_LENGTH = (EDGE_REACH + EDGE_INSIDE) * EDGE_STEPS + 1
COVERAGE_STEPS = 4096
COVERAGE_LENGTH = COVERAGE_STEPS + 1
NARROW_STEPS = 256
"""Steps a pixel, in distance across, of the table for lines less than two pixels wide."""
NARROW_HALVES = 128
"""Steps a pixel in half width: a line is never more than 1/128 px too wide or narrow."""
NARROW_REACH = 2
"""The table begins this many pixels before the line's middle, where a band begins at the earliest."""
NARROW_LENGTH = (NARROW_REACH + 3) * NARROW_STEPS + 1
NARROW_SIZE = (NARROW_HALVES + 1) * NARROW_LENGTH
MOST_COLOURS = 32
"""Colours kept at once, for the memory they take."""


@lru_cache(maxsize=1)
def narrow_levels() -> Indices:
    """Coverage, in ``COVERAGE_STEPS``, of a line of half width up to 1 px, flat: row by half width, column by distance
    across, from before the line's middle to behind it."""
    half = (np.arange(NARROW_HALVES + 1) / NARROW_HALVES).astype(np.float32)[:, None]
    distance = np.abs(np.arange(NARROW_LENGTH) / NARROW_STEPS - NARROW_REACH).astype(np.float32)
    coverage = tent_step(half - distance) + tent_step(half + distance) - 1.0
    return np.rint(coverage * COVERAGE_STEPS).astype(np.intp).ravel()


@dataclass
class Palette:
    """Tables for the colours met so far, one after the other: by distance inside an edge, by coverage, and by width
    and distance for narrow lines. ``numbers`` tells the place of each colour."""

    gamma: float
    numbers: dict[int, int] = field(default_factory=dict)
    by_edge: Packed = field(default_factory=lambda: np.zeros(0, np.uint32))
    by_coverage: Packed = field(default_factory=lambda: np.zeros(0, np.uint32))
    by_width: Packed = field(default_factory=lambda: np.zeros(0, np.uint32))

    def rows_of(self, colours: Packed) -> Indices:
        """Row of each colour (0xRRGGBB), adding tables for new ones."""
        # Marks of one kind come together: a few runs of one colour are told apart, not thousands of marks.
        begins = np.flatnonzero(np.append(True, colours[1:] != colours[:-1])) if len(colours) else np.zeros(0, np.intp)
        wanted = [int(colour) for colour in colours[begins]]
        if len(self.numbers) + len(set(wanted) - self.numbers.keys()) > MOST_COLOURS:
            self.forget()
        return np.repeat(
            np.array([self.row_of(colour) for colour in wanted], np.intp), np.diff(np.append(begins, len(colours)))
        )

    def row_of(self, colour: int) -> int:
        """Row of one colour; good until the next call of ``rows_of``."""
        if colour not in self.numbers:
            offsets = (np.arange(EDGE_LENGTH) / EDGE_STEPS - EDGE_REACH).astype(np.float32)
            coverage = (np.arange(COVERAGE_LENGTH) / COVERAGE_STEPS).astype(np.float32)
            edge = packed_values(tent_step(offsets), colour, self.gamma)
            levels = packed_values(coverage, colour, self.gamma)
            self.by_edge = np.concatenate([self.by_edge, edge])
            self.by_coverage = np.concatenate([self.by_coverage, levels])
            if len(self.numbers) < MOST_COLOURS:
                self.by_width = np.concatenate([self.by_width, levels[narrow_levels()]])
            self.numbers[colour] = len(self.numbers)
        return self.numbers[colour]

    @property
    def has_widths(self) -> bool:
        """Whether ``by_width`` holds every colour in use."""
        return len(self.numbers) <= MOST_COLOURS

    def forget(self) -> None:
        """Drops all tables."""
        self.numbers.clear()
        self.by_edge = self.by_coverage = self.by_width = np.zeros(0, np.uint32)
