"""The canvas: one frame of light, drawn by its own exact coverage in numpy."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from projector.light.encoding import Packed
from projector.light.fills import Fill, FillScratch, draw_fills
from projector.light.flat_frame import MARGIN, Raster, Scratch
from projector.light.kept_letters import KeptLetters
from projector.light.palette import Palette
from projector.light.segments import Segments
from projector.light.shown import Shown
from projector.light.strokes import draw_lines
from projector.light.touched import BLOCK, Touched, in_blocks

KEPT_MEMORY = 24 << 20
"""Bytes of freed memory that the process is brought to keep for itself."""


class Canvas:
    """A frame of ``height_px`` rows of ``width_px`` packed pixels 0x00RRGGBB, drawn over and over without new memory.

    The frame's origin is the outer corner of the top-left pixel; that pixel's centre is (0.5, 0.5). Where marks cross,
    the one that covers more of a pixel wins. Values are encoded for a projector of this ``gamma``, so that coverage
    is right in light, not in numbers. ``letters`` holds those of the last scene in pixels.
    """

    def __init__(self, width_px: int, height_px: int, gamma: float = 2.2) -> None:
        if width_px < 1 or height_px < 1:
            raise ValueError("a frame needs at least one pixel each way")
        if not gamma > 0:
            raise ValueError("gamma must be above zero")
        _keep_freed_memory()
        self.width_px, self.height_px, self.gamma = width_px, height_px, gamma
        wide = -(-width_px // BLOCK) * BLOCK + 2 * MARGIN
        self._padded = np.zeros((height_px + 2 * MARGIN, wide), np.uint32)
        self._touched = Touched(*self._padded.shape)
        self._shown = Shown(MARGIN)
        self._covered = self._padded[MARGIN : MARGIN + height_px, MARGIN : MARGIN + width_px]
        self._frame = np.zeros((height_px, width_px), np.uint32)
        self._raster = Raster(self._padded.reshape(-1), width_px, height_px, wide, self._touched)
        self._palette = Palette(gamma)
        self._scratch = Scratch(width_px, height_px)
        self._fill_scratch = FillScratch()
        self.letters = KeptLetters()

    def clear(self) -> None:
        """Takes away every mark."""
        blocks = self._touched.blocks()
        if blocks is None:
            self._padded.fill(0)
        else:
            in_blocks(self._padded)[blocks] = bytes(BLOCK * self._padded.itemsize)
        self._touched.forget()
        self._fill_scratch.kept.begin()

    def lines(self, lines: Segments) -> None:
        """Lights straight lines, all in one pass."""
        draw_lines(self._raster, lines, self._palette, self._scratch)

    def fills(self, fills: Sequence[Fill]) -> None:
        """Lights filled outlines."""
        draw_fills(self._covered, fills, self._palette, self._fill_scratch, self._touched)

    def into(self, pixels: Packed) -> None:
        """Writes the frame into a (height, width) uint32 array, for instance a view of a window's surface.

        Into the same pixels as the last time only what changed is written.
        """
        if pixels.shape != self._covered.shape or pixels.dtype != np.uint32:
            own = self._covered.shape
            raise ValueError(f"a frame of {own} 32-bit pixels does not fit {pixels.shape} {pixels.dtype}")
        self._shown.write(pixels, self._padded, self._touched)

    @property
    def frame(self) -> Packed:
        """The frame (height, width), 0x00RRGGBB; the same array every time, brought up to date."""
        self.into(self._frame)
        return self._frame

    def picture(self) -> NDArray[np.uint8]:
        """The frame as (height, width, 3) red, green, blue, a new array."""
        frame = self.frame
        return np.stack([(frame >> np.uint32(shift)).astype(np.uint8) for shift in (16, 8, 0)], axis=-1)


def _keep_freed_memory() -> None:
    """Frees one large block, after which glibc keeps blocks up to that size instead of handing them back.

    Without it a fresh process spends a third of every frame on getting the same pages from the system again.
    """
    block = np.empty(KEPT_MEMORY, np.uint8)
    del block
