"""The canvas: one frame of light, drawn by its own exact coverage in numpy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from projector.light.raster.arrays import Indices, Packed
from projector.light.raster.ends import draw_with_ends
from projector.light.raster.even_spans import draw_even_spans, even_spans_of
from projector.light.raster.fills import Boxed, Fill, boxed, draw_fills
from projector.light.raster.frame import BLOCK, MARGIN, FlatFrame, Scratch, Shown, Touched, in_blocks
from projector.light.raster.palette import Palette
from projector.light.raster.still import Still, StillLetters, lit_alone
from projector.light.raster.strips import Lines, Spans, Strips, spans_of, strips_of

KEPT_MEMORY = 24 << 20
"""Bytes of freed memory that the process is brought to keep for itself."""


class Canvas:
    """A frame of ``height_px`` rows of ``width_px`` packed pixels 0x00RRGGBB, drawn over and over without new memory.

    The frame's origin is the outer corner of the top-left pixel; that pixel's centre is (0.5, 0.5). Where marks cross,
    the one that covers more of a pixel wins. Values are encoded for a projector of this ``gamma``, so that coverage
    is right in light, not in numbers.
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
        self._raster = FlatFrame(self._padded.reshape(-1), self._covered, wide, self._touched)
        self._palette = Palette(gamma)
        self._scratch = Scratch(width_px, height_px)
        self.still = StillLetters()
        self._again: Callable[[], None] = lambda: None
        self._handed_over = False

    def light(self, lines: Lines, fills: Sequence[Fill] = (), still: Still | None = None) -> None:
        """Takes away every mark and lights straight lines and filled outlines, each in one pass.

        What is ``still`` is lit as it was when it was lit last, without being worked out again.
        """
        self._clear()
        self._again, self._handed_over = partial(self.light, lines, fills, still), False
        shown, staying = (boxed(some, self.width_px, self.height_px) for some in (fills, still.fills if still else ()))
        strips, spans = seen_of(lines, self.width_px, self.height_px)
        self._touched.expect(
            sum(box.width * box.height for _, box in (*shown, *staying))
            + int(((spans.stop - spans.first) * spans.rows).sum())
        )
        if still is not None:
            self._light_still(still, staying)
        self._fill(shown)
        draw_lines(self._raster, strips, spans, self._palette.rows_of(lines.colours), self._palette, self._scratch)

    def _light_still(self, still: Still, shown: list[Boxed]) -> None:
        """On a frame that is dark as yet."""
        if still.lit is None:
            self._fill(shown)
            still.lit = lit_alone(self._raster, shown)
        else:
            self._raster.put(*still.lit)

    def _fill(self, shown: list[Boxed]) -> None:
        for _, box in shown:
            self._touched.area(box.top + MARGIN, box.left + MARGIN, box.height, box.width)
        if shown:
            draw_fills(self._raster, shown, self._palette)

    def _clear(self) -> None:
        blocks = self._touched.blocks()
        if blocks is None:
            self._padded.fill(0)
        else:
            in_blocks(self._padded)[blocks] = bytes(BLOCK * self._padded.itemsize)
        self._touched.forget()

    def into(self, pixels: Packed) -> None:
        """Writes the frame into a (height, width) uint32 array, for instance a view of a window's surface.

        Into the same pixels as the last time only what changed is written.
        """
        if pixels.shape != self._covered.shape or pixels.dtype != np.uint32:
            own = self._covered.shape
            raise ValueError(f"a frame of {own} 32-bit pixels does not fit {pixels.shape} {pixels.dtype}")
        if self._handed_over:
            # Asked for once more, which is rare: nothing is kept for it.
            self._again()
        self._handed_over = self._touched.everything
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


def seen_of(lines: Lines, width_px: int, height_px: int) -> tuple[Strips, Spans]:
    """Lines as strips, and the columns of each that the frame shows."""
    # No line needs to be wider than the frame is wide and high together; rows beyond are never shown.
    widest = float(width_px + height_px)
    strips = strips_of(replace(lines, widths=np.minimum(lines.widths, widest)))
    return strips, spans_of(strips, width_px, height_px)


def draw_lines(
    raster: FlatFrame, strips: Strips, spans: Spans, colours: Indices, palette: Palette, scratch: Scratch
) -> None:
    """Raises every pixel that a line touches to the line's value there; the most covered wins at crossings.

    ``colours`` is the row in the palette of each strip.
    """
    # Very wide lines are worked out like their ends: rare, and right everywhere.
    with_ends = spans.near_end | (spans.rows > MARGIN - 4) | (not palette.has_widths)
    evens = even_spans_of(strips, spans.where(~with_ends), colours, raster.width_px, raster.height_px)
    draw_even_spans(raster, evens, palette, scratch)
    draw_with_ends(raster, strips, spans.where(with_ends), colours, palette)
