"""A frame while it is drawn: spare pixels around it, what of it is touched, and what a window shows of it already."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.raster.arrays import Flags, Indices, Packed
from projector.light.raster.palette import COLOUR_BITS

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

    def pixels(self, places: Indices, further: int = 0) -> None:
        """These places of the flat frame, so many ``further`` on, are drawn."""
        if not self.everything:
            self._flat[(places + further if further else places) >> BLOCK_BITS] = True

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


MARGIN = 32
"""Spare pixels around the frame, so that bands that stick out need no test pixel by pixel."""
CACHED_BYTES = 16 << 20
"""A frame of more than this is not expected to stay in a processor's cache from one drawing to the next."""
FETCH_STEP = 8
"""One place in so many is read before all are raised: half of what comes from memory at once."""
CHUNK = 8192
"""Columns worked on at a time: small enough to stay in a core's cache."""


@dataclass(frozen=True)
class FlatFrame:
    """A frame with its margin, ``flat``: values to be raised; the frame proper, ``inner`` (height, width); ``stride``
    places from one row to the next, and what has been drawn."""

    flat: Packed
    inner: Packed
    stride: int
    touched: Touched

    @property
    def width_px(self) -> int:
        return self.inner.shape[1]

    @property
    def height_px(self) -> int:
        return self.inner.shape[0]

    def raise_to(self, places: Indices, values: Packed, further: int = 0) -> None:
        """Raises pixels, so many places ``further`` on, to values, each to the greatest given for it."""
        np.maximum.at(self.flat[further:], places, values)
        self.touched.pixels(places, further)

    def put(self, places: Indices, values: Packed) -> None:
        """Lights pixels that are dark."""
        self.flat[places] = values
        self.touched.pixels(places)

    def fetch(self, places: Indices, rows: int, row_step: int) -> None:
        """Reads some of the pixels of these places and of the rows after them, which are about to be raised.

        Reads that wait for memory overlap, which raising one pixel after the other hardly does. A frame that fits into
        the cache needs none of it.
        """
        if self.flat.nbytes > CACHED_BYTES:
            some = places[::FETCH_STEP]
            for number in range(rows):
                self.flat[number * row_step :].take(some, mode="wrap")


class Scratch:
    """Working memory for a chunk, kept between frames: fresh memory costs more than the arithmetic.

    A chunk is never longer than ``CHUNK`` or, where that is more, than the frame's longer side.
    """

    def __init__(self, width_px: int, height_px: int) -> None:
        size = max(CHUNK, width_px, height_px)
        self.size = size
        self.numbers = np.arange(size)
        self.counted = np.arange(size, dtype=np.float64)
        self.place: Indices = np.empty(size, np.intp)
        self.index: Indices = np.empty(size, np.intp)
        self.share = np.empty(size, np.float64)
        self.value = np.empty(size, np.uint32)


HANDED_PX = 1 << 16
"""Pixels handed over at a time: few enough to be still in a core's cache when they are darkened."""
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
        """Brings ``pixels`` (height, width) up to date with the drawn frame inside ``padded``.

        A frame drawn all over is handed over: ``padded`` is dark afterwards, which costs less now than later.
        """
        height, width = pixels.shape
        key = (pixels.__array_interface__["data"][0], pixels.shape, pixels.strides)
        whole = width % BLOCK or not pixels.flags.c_contiguous or touched.everything
        flags = None if whole else self._inside(touched, height, width)
        before = self._flags if key == self._key and flags is not None and self._still_there(pixels) else None
        blocks = np.flatnonzero(flags if before is None else flags | before) if flags is not None else None
        if blocks is None or before is None or len(blocks) > MOST_BLOCKS * before.size:
            if touched.everything:
                _hand_over(pixels, padded, self._margin)
                touched.forget()
            else:
                _write(pixels, padded[self._margin :, self._margin :][:height, :width])
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


def _hand_over(pixels: Packed, padded: Packed, margin: int) -> None:
    """Writes the pixels inside the margin and darkens all, some rows at a time."""
    height, width = pixels.shape
    step = max(HANDED_PX // padded.shape[1], 1)
    for top in range(0, height, step):
        rows = padded[margin + top : margin + min(top + step, height)]
        _write(pixels[top : top + step], rows[:, margin : margin + width])
        rows.fill(0)
    padded[:margin].fill(0)
    padded[margin + height :].fill(0)
