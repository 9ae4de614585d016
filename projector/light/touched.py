"""Which parts of a frame may be lit, in blocks of pixels of one row: only those are cleared and copied."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from projector.light.encoding import Packed

Indices = NDArray[np.intp]

BLOCK_BITS = 4
BLOCK = 1 << BLOCK_BITS
"""Pixels of a block: 64 bytes, what a processor fetches at once."""
MOST_SHARE = 1 / 6
"""Where more than this share of the pixels is drawn, the whole frame is taken: one long run beats many short ones."""


def in_blocks(pixels: Packed) -> NDArray[np.void]:
    """Pixels without gaps, a whole number of blocks, as one thing a block: so they are moved quickest."""
    return np.asarray(pixels.reshape(-1).view(f"V{BLOCK * pixels.itemsize}"))


def taken(pixels: Packed, blocks: Indices) -> Packed:
    """The pixels (n x ``BLOCK``) of these blocks."""
    return np.asarray(np.take(in_blocks(pixels), blocks).view(np.uint32))


class Touched:
    """Blocks of a frame (``height_px`` rows, ``width_px`` a whole number of blocks) that may hold light."""

    def __init__(self, height_px: int, width_px: int) -> None:
        self.flags = np.zeros((height_px, width_px // BLOCK), np.bool_)
        self.everything = False
        self._flat = self.flags.reshape(-1)
        self._left = self._most = int(height_px * width_px * MOST_SHARE)

    def expect(self, count: int) -> None:
        """As many pixels are about to be drawn."""
        self._left -= count
        if self._left < 0:
            self.everything = True

    def pixels(self, places: Indices) -> None:
        """These places of the flat frame are drawn."""
        if not self.everything:
            self._flat[places >> BLOCK_BITS] = True

    def area(self, top: int, left: int, height: int, width: int) -> None:
        """This rectangle is drawn."""
        if not self.everything:
            self.flags[top : top + height, left >> BLOCK_BITS : ((left + width - 1) >> BLOCK_BITS) + 1] = True

    def blocks(self) -> Indices | None:
        """Numbers of the blocks drawn, counted row by row; None for all."""
        return None if self.everything else np.flatnonzero(self._flat)

    def forget(self) -> None:
        """Nothing is drawn any more."""
        self.flags.fill(False)
        self.everything = False
        self._left = self._most
