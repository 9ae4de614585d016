"""Bands away from their ends, in pieces so short that each is of one width: a column then asks for little work."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.bands import LEVEL_SLOPE, Bands, Bools, Ints, Spans
from projector.light.flat_frame import MARGIN, Raster, Scratch
from projector.light.palette import (
    EDGE_INSIDE,
    EDGE_LENGTH,
    EDGE_REACH,
    EDGE_STEPS,
    NARROW_HALVES,
    NARROW_LENGTH,
    NARROW_REACH,
    NARROW_SIZE,
    NARROW_STEPS,
    Palette,
)
from projector.light.segments import Array

HALVES_PER_PX = 256
"""A band that widens is taken as of even width over as much of it as widens by this share of a pixel."""

Chosen = NDArray[np.intp] | Bools | slice


@dataclass(frozen=True)
class Pieces:
    """Runs of columns of even width, (n,) each: first column, column after the last, rows that one column touches, half
    width across, ``start`` (row where the band's first edge, less one pixel and a half, lies in the first column),
    slope, and row of the colour in the palette."""

    steep: Bools
    first: Ints
    stop: Ints
    rows: Ints
    half: Array
    start: Array
    slope: Array
    colour: NDArray[np.intp]

    def where(self, chosen: Chosen) -> Pieces:
        """The chosen ones."""
        return Pieces(
            self.steep[chosen],
            self.first[chosen],
            self.stop[chosen],
            self.rows[chosen],
            self.half[chosen],
            self.start[chosen],
            self.slope[chosen],
            self.colour[chosen],
        )

    @property
    def is_wide(self) -> Bools:
        """Which are two pixels wide and more: no pixel is near to both of their edges."""
        return np.asarray(self.half >= 1.0)


def pieces_of(bands: Bands, spans: Spans, colours: NDArray[np.intp], width_px: int, height_px: int) -> Pieces:
    """The spans cut up, as far as they touch the frame; ``colours`` is the row in the palette of each band."""
    columns = spans.stop - spans.first
    wider = np.abs(bands.growth[spans.band]) * columns * HALVES_PER_PX
    parts = np.minimum(np.ceil(wider).astype(np.int64) + 1, columns)
    pick = np.repeat(np.arange(len(parts)), parts)
    number = np.arange(len(pick)) - (np.cumsum(parts) - parts)[pick]
    first = spans.first[pick] + number * columns[pick] // parts[pick]
    stop = spans.first[pick] + (number + 1) * columns[pick] // parts[pick]
    band = spans.band[pick]
    slope, along = bands.slope[band], first + 0.5 - bands.column[band]
    half = np.maximum(bands.half[band] + bands.growth[band] * (along + 0.5 * (stop - first - 1)), 0.0)
    start = bands.row[band] + slope * along - half - 1.5
    rows = np.floor(2.0 * half + 2.0).astype(np.int64) + 1
    # Columns where the first row lies between these places; a band wide elsewhere may be thin far outside the frame.
    lowest, highest = -1.0 - rows, np.where(bands.steep[band], width_px, height_px)
    flat = np.abs(slope) < LEVEL_SLOPE
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        enter, leave = (lowest - start) / slope, (highest - start) / slope
    inside = (start > lowest) & (start < highest)
    low = np.where(flat, np.where(inside, 0.0, np.inf), np.minimum(enter, leave))
    high = np.where(flat, np.inf, np.maximum(enter, leave))
    columns = stop - first
    begin = np.ceil(np.clip(low, 0.0, columns)).astype(np.int64)
    end = np.maximum(np.floor(np.clip(high, -1.0, columns - 1.0)).astype(np.int64) + 1, begin)
    pieces = Pieces(
        bands.steep[band], first + begin, first + end, rows, half, start + slope * begin, slope, colours[band]
    )
    return pieces.where(end > begin)


def draw_pieces(raster: Raster, pieces: Pieces, palette: Palette, scratch: Scratch) -> None:
    """Raises every pixel of the pieces, none of which may need ``MARGIN`` rows."""
    key = (pieces.rows * 2 + pieces.is_wide) * 2 + pieces.steep
    order = np.argsort(key, kind="stable")
    pieces, key = pieces.where(order), key[order]
    total = np.concatenate([[0], np.cumsum(pieces.stop - pieces.first)])
    breaks = np.flatnonzero(np.diff(key)) + 1
    for begin, end in zip([0, *breaks], [*breaks, len(key)], strict=True):
        while begin < end:
            fit = int(np.searchsorted(total, total[begin] + scratch.size, side="right")) - 1
            upto = min(max(fit, begin + 1), end)
            _draw_alike(raster, pieces.where(slice(begin, upto)), palette, scratch)
            begin = upto


def _draw_alike(raster: Raster, pieces: Pieces, palette: Palette, scratch: Scratch) -> None:
    """Pieces that run the same way, touch as many rows and are all wide or all narrow."""
    width = pieces.stop - pieces.first
    before = np.cumsum(width) - width
    size = int(width.sum())
    place, share = scratch.place[:size], scratch.share[:size]
    column_step, row_step = (raster.stride, 1) if pieces.steep[0] else (1, raster.stride)

    level = np.repeat(pieces.slope, width)
    level *= scratch.counted[:size]
    level += np.repeat(pieces.start - pieces.slope * before, width)
    np.ceil(level, out=share)
    np.copyto(place, share, casting="unsafe")
    # How far the centre of the first row lies beyond the place one pixel outside the first edge, in [0, 1).
    share -= level

    place *= row_step
    place += np.multiply(scratch.numbers[:size], column_step, out=scratch.index[:size])
    place += np.repeat((pieces.first - before + MARGIN) * column_step + MARGIN * row_step, width)
    if pieces.half[0] >= 1.0:
        _by_nearer_edge(raster, pieces, width, row_step, palette, scratch)
    else:
        _by_both_edges(raster, pieces, width, row_step, palette, scratch)


def _by_nearer_edge(
    raster: Raster, pieces: Pieces, width: Ints, row_step: int, palette: Palette, scratch: Scratch
) -> None:
    """The first edge is felt in the first two rows and nowhere else, the other in none of these."""
    size, need = int(width.sum()), int(pieces.rows[0])
    place, share = scratch.place[:size], scratch.share[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    share *= EDGE_STEPS
    share += 0.5
    np.copyto(index, share, casting="unsafe")
    index += np.repeat(pieces.colour * EDGE_LENGTH + (EDGE_REACH - 1) * EDGE_STEPS, width)
    for number in range(2):
        np.take(palette.by_edge[number * EDGE_STEPS :], index, out=value, mode="clip")
        raster.raise_to(place, value)
        place += row_step
    # A row less is a step along the table; deep inside a wide band the table's end stands for all.
    last = (2.0 * pieces.half + (2 - need + EDGE_REACH)) * EDGE_STEPS
    whole = np.floor(last)
    np.subtract(np.repeat(last - whole + 1.0, width), share, out=share)
    np.floor(share, out=share)
    np.copyto(index, share, casting="unsafe")
    index += np.repeat(pieces.colour * EDGE_LENGTH + whole.astype(np.intp), width)
    for number in range(2, need):
        step = min(need - 1 - number, EDGE_INSIDE) * EDGE_STEPS
        np.take(palette.by_edge[step:], index, out=value, mode="clip")
        raster.raise_to(place, value)
        if number + 1 < need:
            place += row_step


def _by_both_edges(
    raster: Raster, pieces: Pieces, width: Ints, row_step: int, palette: Palette, scratch: Scratch
) -> None:
    """From a table by width and distance across."""
    size, need = int(width.sum()), int(pieces.rows[0])
    place, share = scratch.place[:size], scratch.share[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    begin = (NARROW_REACH - 1.0 - pieces.half) * NARROW_STEPS + 0.5
    whole = np.floor(begin)
    share *= NARROW_STEPS
    share += np.repeat(begin - whole, width)
    np.copyto(index, share, casting="unsafe")
    table = np.rint(pieces.half * NARROW_HALVES) * NARROW_LENGTH + whole
    index += np.repeat(pieces.colour * NARROW_SIZE + table.astype(np.intp), width)
    for number in range(need):
        np.take(palette.by_width[number * NARROW_STEPS :], index, out=value, mode="clip")
        raster.raise_to(place, value)
        place += row_step
