"""Strips away from their ends, in spans so short that each is of one width: a column then asks for little work."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from projector.light.raster.arrays import Array, Flags, Indices
from projector.light.raster.frame import MARGIN, FlatFrame, Scratch
from projector.light.raster.palette import (
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
from projector.light.raster.strips import LEVEL_SLOPE, Spans, Strips, grouped

HALVES_PER_PX = 256
"""A strip that widens is taken as of even width over as much of it as widens by this share of a pixel."""

Chosen = Indices | Flags | slice


@dataclass(frozen=True)
class EvenSpans:
    """Runs of columns of even width, (n,) each: first column, column after the last, rows that one column touches, half
    width across, ``start`` (row where the strip's first edge, less one pixel and a half, lies in the first column),
    slope, and row of the colour in the palette."""

    steep: Flags
    first: Indices
    stop: Indices
    rows: Indices
    half: Array
    start: Array
    slope: Array
    colour: Indices

    def where(self, chosen: Chosen) -> EvenSpans:
        """The chosen ones."""
        return EvenSpans(
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
    def is_wide(self) -> Flags:
        """Which are two pixels wide and more: no pixel is near to both of their edges."""
        return np.asarray(self.half >= 1.0)


def even_spans_of(strips: Strips, spans: Spans, colours: Indices, width_px: int, height_px: int) -> EvenSpans:
    """The spans cut up, as far as they touch the frame; ``colours`` is the row in the palette of each strip."""
    columns = spans.stop - spans.first
    wider = np.abs(strips.growth[spans.strip]) * columns * HALVES_PER_PX
    parts = np.minimum(np.ceil(wider).astype(np.intp) + 1, columns)
    pick = np.repeat(np.arange(len(parts)), parts)
    number = np.arange(len(pick)) - (np.cumsum(parts) - parts)[pick]
    strip, begun, whole, among = spans.strip[pick], spans.first[pick], columns[pick], parts[pick]
    # Quotients of whole numbers this small are rounded to whole ones only where they are.
    first = begun + (number * whole / among).astype(np.int32)
    stop = begun + ((number + 1) * whole / among).astype(np.int32)
    slope, along = strips.slope[strip], first + 0.5 - strips.column[strip]
    half = np.maximum(strips.half[strip] + strips.growth[strip] * (along + 0.5 * (stop - first - 1)), 0.0)
    start = strips.row[strip] + slope * along - half - 1.5
    rows = np.floor(2.0 * half + 2.0).astype(np.intp) + 1
    # Columns where the first row lies between these places; a strip wide elsewhere may be thin far outside the frame.
    lowest, highest = -1.0 - rows, np.where(strips.steep[strip], width_px, height_px)
    flat = np.abs(slope) < LEVEL_SLOPE
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        enter, leave = (lowest - start) / slope, (highest - start) / slope
    inside = (start > lowest) & (start < highest)
    low = np.where(flat, np.where(inside, 0.0, np.inf), np.minimum(enter, leave))
    high = np.where(flat, np.inf, np.maximum(enter, leave))
    columns = stop - first
    begin = np.ceil(np.clip(low, 0.0, columns)).astype(np.intp)
    end = np.maximum(np.floor(np.clip(high, -1.0, columns - 1.0)).astype(np.intp) + 1, begin)
    evens = EvenSpans(
        strips.steep[strip], first + begin, first + end, rows, half, start + slope * begin, slope, colours[strip]
    )
    return evens.where(end > begin)


def draw_even_spans(raster: FlatFrame, evens: EvenSpans, palette: Palette, scratch: Scratch) -> None:
    """Raises every pixel of the evens, none of which may need ``MARGIN`` rows."""
    key = (evens.rows * 2 + evens.is_wide) * 2 + evens.steep
    order = grouped(key)
    evens, key = evens.where(order), key[order]
    total = np.concatenate([[0], np.cumsum(evens.stop - evens.first)])
    breaks = np.flatnonzero(np.diff(key)) + 1
    for begin, end in zip([0, *breaks], [*breaks, len(key)], strict=True):
        while begin < end:
            fit = int(np.searchsorted(total, total[begin] + scratch.size, side="right")) - 1
            upto = min(max(fit, begin + 1), end)
            _draw_alike(raster, evens.where(slice(begin, upto)), palette, scratch)
            begin = upto


def _draw_alike(raster: FlatFrame, evens: EvenSpans, palette: Palette, scratch: Scratch) -> None:
    """EvenSpans that run the same way, touch as many rows and are all wide or all narrow."""
    width = evens.stop - evens.first
    before = np.cumsum(width) - width
    size = int(width.sum())
    place, share = scratch.place[:size], scratch.share[:size]
    column_step, row_step = (raster.stride, 1) if evens.steep[0] else (1, raster.stride)

    level = evens.slope.repeat(width)
    level *= scratch.counted[:size]
    level += (evens.start - evens.slope * before).repeat(width)
    np.ceil(level, out=share)
    np.copyto(place, share.astype(np.int32))
    # How far the centre of the first row lies beyond the place one pixel outside the first edge, in [0, 1).
    share -= level

    if evens.steep[0]:
        place += np.multiply(scratch.numbers[:size], raster.stride, out=scratch.index[:size])
    else:
        place *= raster.stride
        place += scratch.numbers[:size]
    place += ((evens.first - before + MARGIN) * column_step + MARGIN * row_step).repeat(width)
    raster.fetch(place, int(evens.rows[0]), row_step)
    if evens.half[0] >= 1.0:
        _by_nearer_edge(raster, evens, width, row_step, palette, scratch)
    else:
        _by_both_edges(raster, evens, width, row_step, palette, scratch)


def _by_nearer_edge(
    raster: FlatFrame, evens: EvenSpans, width: Indices, row_step: int, palette: Palette, scratch: Scratch
) -> None:
    """The first edge is felt in the first two rows and nowhere else, the other in none of these."""
    size, need = int(width.sum()), int(evens.rows[0])
    place, share = scratch.place[:size], scratch.share[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    share *= EDGE_STEPS
    share += 0.5
    np.copyto(index, share.astype(np.int32))
    index += (evens.colour * EDGE_LENGTH + (EDGE_REACH - 1) * EDGE_STEPS).repeat(width)
    for number in range(2):
        palette.by_edge[number * EDGE_STEPS :].take(index, out=value, mode="clip")
        raster.raise_to(place, value, number * row_step)
    # A row less is a step along the table; deep inside a wide strip the table's end stands for all.
    last = (2.0 * evens.half + (2 - need + EDGE_REACH)) * EDGE_STEPS
    whole = np.floor(last)
    np.subtract((last - whole + 1.0).repeat(width), share, out=share)
    np.floor(share, out=share)
    np.copyto(index, share.astype(np.int32))
    index += (evens.colour * EDGE_LENGTH + whole.astype(np.intp)).repeat(width)
    for number in range(2, need):
        step = min(need - 1 - number, EDGE_INSIDE) * EDGE_STEPS
        palette.by_edge[step:].take(index, out=value, mode="clip")
        raster.raise_to(place, value, number * row_step)


def _by_both_edges(
    raster: FlatFrame, evens: EvenSpans, width: Indices, row_step: int, palette: Palette, scratch: Scratch
) -> None:
    """From a table by width and distance across."""
    size, need = int(width.sum()), int(evens.rows[0])
    place, share = scratch.place[:size], scratch.share[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    begin = (NARROW_REACH - 1.0 - evens.half) * NARROW_STEPS + 0.5
    whole = np.floor(begin)
    share *= NARROW_STEPS
    share += (begin - whole).repeat(width)
    np.copyto(index, share.astype(np.int32))
    table = np.rint(evens.half * NARROW_HALVES) * NARROW_LENGTH + whole
    index += (evens.colour * NARROW_SIZE + table.astype(np.intp)).repeat(width)
    for number in range(need):
        palette.by_width[number * NARROW_STEPS :].take(index, out=value, mode="clip")
        raster.raise_to(place, value, number * row_step)
