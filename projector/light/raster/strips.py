"""Straight lines in the frame as strips of pixels: spans of columns along a line's longer axis.

Everything is said along the line's major axis (x for flat lines, y for steep ones): a "column" is one pixel step along
it, a "row" one pixel step across it. Distances across are measured along the minor axis, so that the tent filter takes
whole-pixel steps and keeps centroids exact at every slope. With slope m, a distance d px square to the line is
d * sqrt(1 + m^2) along the minor axis; that factor is called ``stretch``.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from projector.light.raster.arrays import Array, Flags, Indices, Packed


@dataclass(frozen=True)
class Lines:
    """Straight lines in pixels of the frame: n of them.

    ``starts`` and ``ends`` (n, 2); ``widths`` (n, 2), the full width at start and end; ``colours`` (n,) 0xRRGGBB;
    ``joined`` (n, 2), true where the line goes on beyond that end (rounded there, so that a bend has no gap), false
    where it is cut off square.
    """

    starts: Array
    ends: Array
    widths: Array
    colours: Packed
    joined: Flags

    def __len__(self) -> int:
        return len(self.starts)


def lines_px(
    starts: ArrayLike, ends: ArrayLike, widths: ArrayLike, colours: ArrayLike = 0xFFFFFF, joined: ArrayLike = False
) -> Lines:
    """Lines from anything that broadcasts: ``widths`` and ``joined`` may be one value or (n, 2).

    Raises ValueError where a number is not finite or a width is negative.
    """
    first = np.array(starts, np.float64).reshape(-1, 2)
    last = np.array(ends, np.float64).reshape(-1, 2)
    width = np.broadcast_to(np.asarray(widths, np.float64), first.shape)
    if not (np.isfinite(first).all() and np.isfinite(last).all() and np.isfinite(width).all()):
        raise ValueError("a line to be lit has an end or a width that is not a number")
    if (width < 0).any():
        raise ValueError("a line to be lit has a width below zero")
    colour = np.broadcast_to(np.asarray(colours, np.uint32), first.shape[:1])
    return Lines(first, last, width, colour, np.broadcast_to(np.asarray(joined, np.bool_), first.shape))


LEAST_PX = 1e-9
"""A shorter line has no direction worth the name and lights nothing."""
LEVEL_SLOPE = 1e-14
"""A line with less slope is as good as level: over ten million columns it moves less than a millionth of a pixel."""

SHORT = 6
"""Columns of a line that is taken as near its ends all along: parted, it would only be more work."""


@dataclass(frozen=True)
class Strips:
    """Lines turned along their major axis, (n,) each: column and row of the start, slope, half width across at the
    start and its growth per column, stretch, length along the major axis; ``joined`` (2, n): which ends go on."""

    steep: Flags
    column: Array
    row: Array
    slope: Array
    half: Array
    growth: Array
    stretch: Array
    length: Array
    joined: Flags


@dataclass(frozen=True)
class Spans:
    """Runs of columns of strips, (n,) each: strip number, first column, column after the last, rows a column needs,
    and whether an end of the line is felt there."""

    strip: Indices
    first: Indices
    stop: Indices
    rows: Indices
    near_end: Flags

    def where(self, chosen: Flags | Indices | slice) -> Spans:
        """The chosen ones."""
        return Spans(
            self.strip[chosen], self.first[chosen], self.stop[chosen], self.rows[chosen], self.near_end[chosen]
        )


def strips_of(lines: Lines) -> Strips:
    """Each line along its major axis, running towards larger columns; lines without length or width are left out by
    having no columns."""
    (x0, y0), (x1, y1) = lines.starts.T, lines.ends.T
    steep = np.abs(y1 - y0) > np.abs(x1 - x0)
    start, end = np.where(steep, y0, x0), np.where(steep, y1, x1)
    start_row, end_row = np.where(steep, x0, y0), np.where(steep, x1, y1)
    back = end < start
    length = np.abs(end - start)
    safe = np.where(length > LEAST_PX, length, 1.0)
    slope = np.where(back, start_row - end_row, end_row - start_row) / safe
    stretch = np.sqrt(1.0 + slope * slope)
    near, far = (np.where(back, *widths) * (0.5 * stretch) for widths in (lines.widths.T[::-1], lines.widths.T))
    drawn = (length > LEAST_PX) & ((near > 0) | (far > 0))
    return Strips(
        steep,
        np.where(back, end, start),
        np.where(back, end_row, start_row),
        slope,
        near,
        (far - near) / safe,
        stretch,
        np.where(drawn, length, -1.0),
        np.where(back, lines.joined.T[::-1], lines.joined.T),
    )


def spans_of(strips: Strips, width_px: int, height_px: int) -> Spans:
    """The columns of each strip that lie in the frame, cut where the influence of an end begins.

    Cost does not depend on how far a line reaches outside the frame.
    """
    columns = np.where(strips.steep, height_px, width_px)
    rows = np.where(strips.steep, width_px, height_px)
    end_half = strips.half + strips.growth * strips.length
    fattest = np.maximum(strips.half, end_half)
    low, high = _visible(strips, fattest + 2.0, columns, rows)

    # An end is felt within one filter width along the line, plus the lean of the square cut across the strip.
    near, far = (strips.half + 1.0) / strips.stretch, (end_half + 1.0) / strips.stretch
    lean = np.abs(strips.slope) / strips.stretch
    square = 1.0 / strips.stretch**2
    out_start = np.where(strips.joined[0], near, square + near * lean)
    out_end = np.where(strips.joined[1], far, square + far * lean)
    finish = strips.column + strips.length
    first = _pixel(np.maximum(strips.column - out_start, low), columns)
    stop = _pixel(np.minimum(finish + out_end, high), columns)
    stop = np.where(strips.length > 0, np.maximum(stop, first), first)
    half_seen = np.maximum(
        strips.half + strips.growth * np.clip(first - strips.column, 0.0, strips.length.clip(0.0)),
        strips.half + strips.growth * np.clip(stop - strips.column, 0.0, strips.length.clip(0.0)),
    )
    need = np.floor(2.0 * half_seen + 2.0).astype(np.intp) + 1
    # A dot is one run from end to end.
    short = stop - first <= SHORT
    dot, line = np.flatnonzero(short & (stop > first)), np.flatnonzero(~short)
    begin, end = first[line], stop[line]
    begun, ended = (strips.column + square + near * lean)[line], (finish - square - far * lean)[line]
    inner = np.clip(_pixel(begun, columns[line]), begin, end)
    outer = np.clip(_pixel(ended, columns[line]), inner, end)
    strip = np.concatenate([dot, line, line, line])
    near_end = np.ones(len(strip), np.bool_)
    near_end[len(dot) + len(line) : len(dot) + 2 * len(line)] = False
    spans = Spans(
        strip,
        np.concatenate([first[dot], begin, inner, outer]),
        np.concatenate([stop[dot], inner, outer, end]),
        need[strip],
        near_end,
    )
    return spans.where(spans.stop > spans.first)


def _visible(strips: Strips, reach: Array, columns: Indices, rows: Indices) -> tuple[Array, Array]:
    """Columns between which a strip comes within ``reach`` rows of the frame."""
    flat = np.abs(strips.slope) < LEVEL_SLOPE
    slope = np.where(flat, 1.0, strips.slope)
    at_top = strips.column + (-reach - strips.row) / slope
    at_foot = strips.column + (rows + reach - strips.row) / slope
    inside = (strips.row > -reach) & (strips.row < rows + reach)
    low = np.where(flat, np.where(inside, 0.0, columns), np.minimum(at_top, at_foot))
    high = np.where(flat, columns, np.maximum(at_top, at_foot))
    return np.maximum(low, 0.0), np.minimum(high, columns)


def grouped(key: Indices) -> Indices:
    """The order (n,) that puts equal keys together, each group as it was: small numbers are sorted quickest."""
    return np.argsort(key.astype(np.uint16) if key.max(initial=0) < 1 << 16 else key, kind="stable")


def _pixel(place: Array, columns: Indices) -> Indices:
    """The first column whose centre is at or after a place, kept within the frame."""
    return np.ceil(np.clip(place, 0.0, columns) - 0.5).astype(np.intp)
