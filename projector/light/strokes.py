"""Pixels of lines: coverage of every pixel of every band, many lines in one pass."""

from __future__ import annotations

from dataclasses import dataclass

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
    Palette,
)
from projector.light.segments import Segments

MARGIN = 32
"""Spare pixels around the frame, so that bands that stick out need no test pixel by pixel."""
CHUNK = 16384
"""Columns worked on at a time: small enough to stay in a core's cache."""

Indices = NDArray[np.intp]


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
        self.value = np.empty(CHUNK, np.uint32)


def draw_lines(raster: Raster, lines: Segments, palette: Palette, scratch: Scratch) -> None:
    """Raises every pixel that a line touches to the line's value there; the most covered wins at crossings."""
    bands = bands_of(lines)
    spans = spans_of(bands, raster.width_px, raster.height_px)
    rows = palette.rows_of(lines.colours)
    thin = (bands.half < 1.0) | (bands.half + bands.growth * bands.length < 1.0)
    # Three ways of working a pixel out, from the cheapest: one edge only, both edges, both edges and the ends.
    way = np.where(spans.near_end, 2, thin[spans.band].astype(np.int64))
    order = np.lexsort((spans.band, way, spans.rows))
    spans, way = spans.where(order), way[order]
    width = spans.stop - spans.first
    total = np.concatenate([[0], np.cumsum(width)])
    breaks = np.flatnonzero(np.diff(spans.rows * 4 + way)) + 1
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
    pick = np.repeat(np.arange(len(width)), width)
    column = np.arange(len(pick)) + (spans.first - np.cumsum(width) + width)[pick]
    band = spans.band[pick]
    along = column + (0.5 - bands.column)[band]
    centre = bands.row[band] + bands.slope[band] * along
    reach = along if way < 2 else np.clip(along, 0.0, bands.length[band])
    half = bands.half[band] + bands.growth[band] * reach
    top = np.floor(centre - half - 1.5) + 1.0
    offset = (top + 0.5 - centre).astype(np.float32)
    steep = bands.steep[band]
    step = np.where(steep, 1, raster.stride)
    top_row = top.astype(np.int64)
    need = int(spans.rows[0])
    places = _Places(raster, top_row, column + MARGIN, steep, step, need)
    if way == 0:
        _one_edge(raster, places, offset, half.astype(np.float32), rows[band], palette, scratch)
        return
    ends = _Ends(bands, band, along) if way == 2 else None
    _both_edges(raster, places, offset, half.astype(np.float32), ends, rows[band], palette)


class _Places:
    """Where the pixels of a chunk lie in the flat frame, row of the band by row of the band."""

    def __init__(
        self, raster: Raster, top: Indices, column: Indices, steep: NDArray[np.bool_], step: Indices, need: int
    ) -> None:
        self.need = need
        self.step = step
        self.top = top
        self.fixed = np.where(steep, column * raster.stride, column)
        # Bands wider than the margin are held to it pixel by pixel.
        self.last = np.where(steep, raster.width_px, raster.height_px) if need > MARGIN - 4 else None
        self.at = (top + MARGIN) * step + self.fixed

    def row(self, number: int) -> Indices:
        if self.last is not None:
            return (np.clip(self.top + number, -1, self.last) + MARGIN) * self.step + self.fixed
        if number:
            self.at += self.step
        return self.at


class _Ends:
    """How far each column lies inside the two ends of its line.

    In pixels along the line times the stretch, so that one column is one tent step, as across the line.
    """

    def __init__(self, bands: Bands, band: Indices, along: NDArray[np.float64]) -> None:
        square = bands.stretch[band] ** 2
        self.start = (along * square).astype(np.float32)
        self.rest = ((bands.length[band] - along) * square).astype(np.float32)
        self.lean = bands.slope[band].astype(np.float32)
        self.goes_on = bands.joined[band].T
        self.any_joined = bool(self.goes_on.any())

    def seen(self, offset: Floats) -> tuple[Floats, Floats]:
        """Share of each pixel that lies between the ends, and its distance across, round where the line goes on."""
        start, rest = self.start + self.lean * offset, self.rest - self.lean * offset
        distance = np.abs(offset)
        if self.any_joined:
            beyond = np.maximum(np.where(self.goes_on[0], -start, 0.0), np.where(self.goes_on[1], -rest, 0.0))
            distance = np.hypot(distance, np.maximum(beyond, 0.0, dtype=np.float32))
            start, rest = np.where(self.goes_on[0], 9.0, start), np.where(self.goes_on[1], 9.0, rest)
        return tent_step(start) + tent_step(rest) - 1.0, distance


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


def _both_edges(
    raster: Raster, places: _Places, offset: Floats, half: Floats, ends: _Ends | None, table: Indices, palette: Palette
) -> None:
    """Narrow lines and the ends of all: both edges, and the cut across the line, enter the coverage."""
    base = table * COVERAGE_LENGTH
    for number in range(places.need):
        shifted = offset + np.float32(number)
        between, distance = ends.seen(shifted) if ends else (None, np.abs(shifted))
        coverage = tent_step(half - distance) + tent_step(half + distance) - 1.0
        if between is not None:
            coverage *= between
        coverage *= COVERAGE_STEPS
        index = (coverage + 0.5).astype(np.intp).clip(0, COVERAGE_STEPS) + base
        np.maximum.at(raster.flat, places.row(number), palette.by_coverage[index])
