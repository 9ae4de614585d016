"""Pixels of lines: coverage of every pixel of every band, many lines in one pass."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from projector.light.bands import Bands, Spans, bands_of, spans_of
from projector.light.encoding import Floats, Packed, tent_step
from projector.light.palette import (
    COVERAGE_LENGTH,
    COVERAGE_STEPS,
    EDGE_LENGTH,
    EDGE_REACH,
    EDGE_STEPS,
    NARROW_LENGTH,
    NARROW_SIZE,
    NARROW_STEPS,
    Palette,
)
from projector.light.segments import Segments

MARGIN = 32
"""Spare pixels around the frame, so that bands that stick out need no test pixel by pixel."""
CHUNK = 8192
"""Columns worked on at a time: small enough to stay in a core's cache."""

WIDE, NARROW, ENDS = 0, 1, 2
"""Ways of working out a pixel, from the cheapest: by the nearer edge, by both edges, by both edges and the ends."""
WAYS = 3
FAR = np.float32(9.0)
"""Pixels from an end, standing for so far that it is not felt."""

Indices = NDArray[np.intp]
Number = TypeVar("Number", bound=np.generic)


@dataclass(frozen=True)
class Raster:
    """A frame with its margin, flat: values to be raised, pixels of the frame proper, and a row's stride."""

    flat: Packed
    width_px: int
    height_px: int

    @property
    def stride(self) -> int:
        return self.width_px + 2 * MARGIN


class Scratch:
    """Working memory for a chunk, kept between frames: fresh memory costs more than the arithmetic."""

    def __init__(self) -> None:
        self.distance = np.empty(CHUNK, np.float32)
        self.work = np.empty(CHUNK, np.float32)
        self.index = np.empty(CHUNK, np.intp)
        self.numbers = np.arange(CHUNK)
        self.value = np.empty(CHUNK, np.uint32)

    def counter(self, size: int) -> Indices:
        """0, 1, 2, ... ``size`` of them."""
        return self.numbers[:size]


def single(values: NDArray[np.float64]) -> Floats:
    """In single precision."""
    return values.astype(np.float32)


def draw_lines(raster: Raster, lines: Segments, palette: Palette, scratch: Scratch) -> None:
    """Raises every pixel that a line touches to the line's value there; the most covered wins at crossings."""
    # No line needs to be wider than the frame is wide and high together; rows beyond are never shown.
    widest = float(raster.width_px + raster.height_px)
    bands = bands_of(replace(lines, widths=np.minimum(lines.widths, widest)))
    spans = spans_of(bands, raster.width_px, raster.height_px)
    rows = palette.rows_of(lines.colours)
    thin = (bands.half < 1.0) | (bands.half + bands.growth * bands.length < 1.0)
    thin_all = (bands.half <= 1.0) & (bands.half + bands.growth * bands.length <= 1.0) & palette.has_widths
    # A line that grows from thin to wide is worked out like an end: rare, and right everywhere.
    way = np.where(spans.near_end | (thin & ~thin_all)[spans.band], ENDS, np.where(thin[spans.band], NARROW, WIDE))
    order = np.lexsort((spans.band, way, spans.rows))
    spans, way = spans.where(order), way[order]
    width = spans.stop - spans.first
    total = np.concatenate([[0], np.cumsum(width)])
    breaks = np.flatnonzero(np.diff(spans.rows * WAYS + way)) + 1
    for begin, end in zip([0, *breaks], [*breaks, len(width)], strict=True):
        while begin < end:
            fit = int(np.searchsorted(total, total[begin] + CHUNK, side="right")) - 1
            upto = min(max(fit, begin + 1), end)
            _draw_columns(raster, bands, spans.where(slice(begin, upto)), rows, int(way[begin]), palette, scratch)
            begin = upto


def _draw_columns(
    raster: Raster, bands: Bands, spans: Spans, rows: Indices, way: int, palette: Palette, scratch: Scratch
) -> None:
    width = spans.stop - spans.first
    chosen = spans.band

    def spread(values: NDArray[Number]) -> NDArray[Number]:
        return np.repeat(values, width)

    # What a span has in common is worked out once, exactly, and spread over its columns in single precision: the
    # numbers stay below the frame's size, so rounding stays below 0.0003 px.
    column = scratch.counter(int(width.sum())) - spread(np.cumsum(width) - width)
    number = column.astype(np.float32)
    start = spans.first + 0.5 - bands.column[chosen]
    centre = spread(single(bands.slope[chosen])) * number
    centre += spread(single(bands.row[chosen] + bands.slope[chosen] * start))
    growth = spread(single(bands.growth[chosen]))
    if way == ENDS:
        number += spread(single(start))
        half = growth * np.clip(number, np.float32(0.0), spread(single(bands.length[chosen])))
        half += spread(single(bands.half[chosen]))
    else:
        half = growth * number
        half += spread(single(bands.half[chosen] + bands.growth[chosen] * start))
    top = centre - half
    top -= np.float32(1.5)
    np.ceil(top, out=top)
    offset = top - centre
    offset += np.float32(0.5)
    steep = bands.steep[chosen]
    row_step, column_step = np.where(steep, 1, raster.stride), np.where(steep, raster.stride, 1)
    column *= spread(column_step)
    column += spread((spans.first + MARGIN) * column_step)
    last = spread(np.where(steep, raster.width_px, raster.height_px)) if spans.rows[0] > MARGIN - 4 else None
    places = _Places(column, top.astype(np.intp), spread(row_step), int(spans.rows[0]), last)
    table = spread(rows[chosen])
    if way == WIDE:
        _one_edge(raster, places, offset, half, table, palette, scratch)
    elif way == NARROW:
        _narrow(raster, places, offset, half, table, palette, scratch)
    else:
        _near_ends(raster, places, offset, half, _Ends(bands, spread(chosen), number), table, palette)


class _Places:
    """Where the pixels of a chunk lie in the flat frame, row of the band by row of the band.

    ``last`` is given for bands wider than the margin: they are held to it pixel by pixel.
    """

    def __init__(self, base: Indices, top: Indices, step: Indices, need: int, last: Indices | None) -> None:
        self.base, self.top, self.step, self.need, self.last = base, top, step, need, last
        self.at = (top + MARGIN) * step + base

    def row(self, number: int) -> Indices:
        """Places of the pixels in this row of the band; rows are asked for in order."""
        if self.last is not None:
            return (np.clip(self.top + number, -1, self.last) + MARGIN) * self.step + self.base
        if number:
            self.at += self.step
        return self.at


class _Ends:
    """How far each column lies inside the two ends of its line.

    In pixels along the line times the stretch, so that one column is one tent step, as across the line.
    """

    def __init__(self, bands: Bands, band: Indices, along: Floats) -> None:
        square = single(bands.stretch**2)[band]
        self.start = along * square
        self.rest = (single(bands.length)[band] - along) * square
        self.lean = single(bands.slope)[band]
        self.goes_on = bands.joined[band].T
        self.any_joined = bool(self.goes_on.any())
        # Both ends share a pixel only in pieces shorter than the filter.
        self.tiny = bool((self.start + self.rest).min(initial=FAR) < 2.0)

    def seen(self, offset: Floats) -> tuple[Floats, Floats]:
        """Share of each pixel that lies between the ends, and its distance across, round where the line goes on."""
        leant = self.lean * offset
        start, rest = self.start + leant, self.rest - leant
        distance = np.abs(offset)
        if self.any_joined:
            beyond = np.maximum(np.where(self.goes_on[0], -start, 0.0), np.where(self.goes_on[1], -rest, 0.0))
            distance = np.hypot(distance, np.maximum(beyond, 0.0, dtype=np.float32))
            start, rest = np.where(self.goes_on[0], FAR, start), np.where(self.goes_on[1], FAR, rest)
        if self.tiny:
            return tent_step(start) + tent_step(rest) - 1.0, distance
        return tent_step(np.minimum(start, rest)), distance


def _one_edge(
    raster: Raster, places: _Places, offset: Floats, half: Floats, table: Indices, palette: Palette, scratch: Scratch
) -> None:
    """Lines two pixels wide and more, away from their ends: the nearer edge alone decides, straight from the table."""
    size = len(offset)
    distance, work = scratch.distance[:size], scratch.work[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    base = (table * EDGE_LENGTH).astype(np.float32)
    inside = half * EDGE_STEPS + base + (EDGE_REACH * EDGE_STEPS + 0.5)
    full = base + (EDGE_LENGTH - 0.5)
    np.multiply(offset, EDGE_STEPS, out=distance)
    for number in range(places.need):
        np.abs(distance, out=work)
        np.subtract(inside, work, out=work)
        np.minimum(work, full, out=work)
        np.copyto(index, work, casting="unsafe")
        np.take(palette.by_edge, index, out=value, mode="clip")
        np.maximum.at(raster.flat, places.row(number), value)
        distance += EDGE_STEPS


def _narrow(
    raster: Raster, places: _Places, offset: Floats, half: Floats, table: Indices, palette: Palette, scratch: Scratch
) -> None:
    """Lines less than two pixels wide, away from their ends: both edges enter, from a table by width and distance."""
    size = len(offset)
    distance, work = scratch.distance[:size], scratch.work[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    by_width = np.rint(half * NARROW_STEPS) * NARROW_LENGTH + (table * NARROW_SIZE + 0.5).astype(np.float32)
    np.multiply(offset, NARROW_STEPS, out=distance)
    for number in range(places.need):
        np.abs(distance, out=work)
        work += by_width
        np.copyto(index, work, casting="unsafe")
        np.take(palette.by_width, index, out=value, mode="clip")
        np.maximum.at(raster.flat, places.row(number), value)
        distance += NARROW_STEPS


def _near_ends(
    raster: Raster, places: _Places, offset: Floats, half: Floats, ends: _Ends, table: Indices, palette: Palette
) -> None:
    """Where an end is felt: both edges, and the cut across the line, enter the coverage."""
    colour = table * COVERAGE_LENGTH
    wide = bool(half.min(initial=FAR) >= 1.0)
    for number in range(places.need):
        coverage, distance = ends.seen(offset + np.float32(number))
        side = tent_step(half - distance)
        if not wide:
            side += tent_step(half + distance)
            side -= np.float32(1.0)
        coverage *= side
        coverage *= np.float32(COVERAGE_STEPS)
        coverage += np.float32(0.5)
        index = coverage.astype(np.intp)
        index += colour
        np.maximum.at(raster.flat, places.row(number), np.take(palette.by_coverage, index, mode="clip"))
