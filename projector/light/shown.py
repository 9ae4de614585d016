"""What a window's pixels hold since they were last written, so that only what changed is written again."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from projector.light.encoding import COLOUR_BITS, Packed
from projector.light.touched import BLOCK, Indices, Touched, in_blocks, taken

Flags = NDArray[np.bool_]

MOST_BLOCKS = 0.2
"""Where a larger share of the blocks is to be written, one long run over all of them is as quick."""
SAMPLES = 4096
"""Blocks looked at before the rest of a window is believed to hold what was written there."""


class Shown:
    """The last frame written: where, and which blocks of it were lit.

    ``margin`` (px, whole blocks) is what the drawn frame has around the one that is shown. A window may have been
    made anew, or painted by somebody else, since: its lit blocks are looked at first, and where they differ, or none
    were lit, everything is written.
    """

    def __init__(self, margin: int) -> None:
        self._margin = margin
        self._key: tuple[object, ...] = ()
        self._flags: Flags | None = None
        self._samples: tuple[Indices, Packed] | None = None

    def write(self, pixels: Packed, padded: Packed, touched: Touched) -> None:
        """Brings ``pixels`` (height, width) up to date with the drawn frame inside ``padded``."""
        height, width = pixels.shape
        key = (pixels.__array_interface__["data"][0], pixels.shape, pixels.strides)
        whole = width % BLOCK or not pixels.flags.c_contiguous or touched.everything
        flags = None if whole else self._inside(touched, height, width)
        before = self._flags if key == self._key and flags is not None and self._still_there(pixels) else None
        blocks = np.flatnonzero(flags if before is None else flags | before) if flags is not None else None
        if blocks is None or before is None or len(blocks) > MOST_BLOCKS * before.size:
            margin = self._margin
            _write(pixels, padded[margin : margin + height, margin : margin + width])
        else:
            rows, columns = np.divmod(blocks, width // BLOCK)
            across = padded.shape[1] // BLOCK
            values = taken(padded, (rows + self._margin) * across + columns + self._margin // BLOCK)
            _write(values, values)
            in_blocks(pixels)[blocks] = in_blocks(values)
        self._key, self._flags, self._samples = key, flags, None
        if blocks is not None:
            chosen = blocks[:: len(blocks) // SAMPLES + 1]
            self._samples = chosen, taken(pixels, chosen)

    def _inside(self, touched: Touched, height: int, width: int) -> Flags:
        first = self._margin // BLOCK
        return touched.flags[self._margin : self._margin + height, first : first + width // BLOCK].flatten()

    def _still_there(self, pixels: Packed) -> bool:
        if self._samples is None:
            return False
        blocks, values = self._samples
        return bool(values.any()) and np.array_equal(taken(pixels, blocks), values)


def _write(pixels: Packed, covered: Packed) -> None:
    """Colours of drawn pixels without their coverage."""
    np.bitwise_and(covered, np.uint32(COLOUR_BITS), out=pixels)
