"""A frame with spare pixels around it, laid out flat: what lines are drawn into."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.encoding import Packed
from projector.light.touched import Indices, Touched

MARGIN = 32
"""Spare pixels around the frame, so that bands that stick out need no test pixel by pixel."""
CHUNK = 8192
"""Columns worked on at a time: small enough to stay in a core's cache."""


@dataclass(frozen=True)
class Raster:
    """A frame with its margin, flat: values to be raised, the size of the frame proper, ``stride`` places from one row
    to the next, and what has been drawn."""

    flat: Packed
    width_px: int
    height_px: int
    stride: int
    touched: Touched

    def raise_to(self, places: Indices, values: Packed) -> None:
        """Raises pixels to values, each to the greatest given for it."""
        np.maximum.at(self.flat, places, values)
        self.touched.pixels(places)


class Scratch:
    """Working memory for a chunk, kept between frames: fresh memory costs more than the arithmetic.

    A chunk is never longer than ``CHUNK`` or, where that is more, than the frame's longer side.
    """

    def __init__(self, width_px: int, height_px: int) -> None:
        size = max(CHUNK, width_px, height_px)
        self.size = size
        self.numbers = np.arange(size)
        self.counted = np.arange(size, dtype=np.float64)
        self.place: NDArray[np.intp] = np.empty(size, np.intp)
        self.index: NDArray[np.intp] = np.empty(size, np.intp)
        self.share = np.empty(size, np.float64)
        self.value = np.empty(size, np.uint32)
