"""The band of pixels that a line may touch, as spans of columns along its longer axis.

Everything is said along the line's major axis (x for flat lines, y for steep ones): a "column" is one pixel step along
it, a "row" one pixel step across it. Distances across are measured along the minor axis, so that the tent filter takes
whole-pixel steps and keeps centroids exact at every slope. With slope m, a distance d px square to the line is
d * sqrt(1 + m^2) along the minor axis; that factor is called ``stretch``.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.segments import Array, Segments

LEAST_PX = 1e-9
"""A shorter line has no direction worth the name and lights nothing."""
LEVEL_SLOPE = 1e-14
"""A line with less slope is as good as level: over ten million columns it moves less than a millionth of a pixel."""

SHORT = 6
"""Columns of a line that is taken as near its ends all along: parted, it would only be more work."""

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Bands:
    """Lines turned along their major axis, (n,) each: column and row of the start, slope, half width across at the
    start and its growth per column, stretch, length along the major axis, and which ends go on."""

    steep: Bools
    column: Array
    row: Array
    slope: Array
    half: Array
    growth: Array
    stretch: Array
    length: Array
    joined: Bools


@dataclass(frozen=True)
class Spans:
    """Runs of columns of bands, (n,) each: band number, first column, column after the last, rows a column needs,
    and whether an end of the line is felt there."""

    band: Ints
    first: Ints
    stop: Ints
    rows: Ints
    near_end: Bools

    def where(self, chosen: Bools | Ints | slice) -> Spans:
        """The chosen ones."""
        return Spans(self.band[chosen], self.first[chosen], self.stop[chosen], self.rows[chosen], self.near_end[chosen])


def bands_of(lines: Segments) -> Bands:
    """Each line along its major axis, running towards larger columns; lines without length or width are left out by
    having no columns."""
    steep = np.abs(lines.ends[:, 1] - lines.starts[:, 1]) > np.abs(lines.ends[:, 0] - lines.starts[:, 0])
    start = np.where(steep[:, None], lines.starts[:, ::-1], lines.starts)
    end = np.where(steep[:, None], lines.ends[:, ::-1], lines.ends)
    back = (end[:, 0] < start[:, 0])[:, None]
    start, end = np.where(back, end, start), np.where(back, start, end)
    widths = np.where(back, lines.widths[:, ::-1], lines.widths)
    length = end[:, 0] - start[:, 0]
    safe = np.where(length > LEAST_PX, length, 1.0)
    slope = (end[:, 1] - start[:, 1]) / safe
    stretch = np.sqrt(1.0 + slope * slope)
    half = widths * (0.5 * stretch)[:, None]
    joined = np.where(back, lines.joined[:, ::-1], lines.joined)
    drawn = (length > LEAST_PX) & (widths.max(axis=1, initial=0.0) > 0)
    growth = (half[:, 1] - half[:, 0]) / safe
    return Bands(
        steep, start[:, 0], start[:, 1], slope, half[:, 0], growth, stretch, np.where(drawn, length, -1.0), joined
    )


def spans_of(bands: Bands, width_px: int, height_px: int) -> Spans:
    """The columns of each band that lie in the frame, cut where the influence of an end begins.

    Cost does not depend on how far a line reaches outside the frame.
    """
    columns = np.where(bands.steep, height_px, width_px)
    rows = np.where(bands.steep, width_px, height_px)
    end_half = bands.half + bands.growth * bands.length
    fattest = np.maximum(bands.half, end_half)
    low, high = _visible(bands, fattest + 2.0, columns, rows)

    # An end is felt within one filter width along the line, plus the lean of the square cut across the band.
    near, far = (bands.half + 1.0) / bands.stretch, (end_half + 1.0) / bands.stretch
    lean = np.abs(bands.slope) / bands.stretch
    square = 1.0 / bands.stretch**2
    out_start = np.where(bands.joined[:, 0], near, square + near * lean)
    out_end = np.where(bands.joined[:, 1], far, square + far * lean)
    finish = bands.column + bands.length
    first = _pixel(np.maximum(bands.column - out_start, low), columns)
    stop = _pixel(np.minimum(finish + out_end, high), columns)
    stop = np.where(bands.length > 0, np.maximum(stop, first), first)
    inner = np.clip(_pixel(bands.column + square + near * lean, columns), first, stop)
    outer = np.clip(_pixel(finish - square - far * lean, columns), inner, stop)
    # A dot is one run from end to end.
    short = stop - first <= SHORT
    inner, outer = np.where(short, stop, inner), np.where(short, stop, outer)

    half_seen = np.maximum(
        bands.half + bands.growth * np.clip(first - bands.column, 0.0, bands.length.clip(0.0)),
        bands.half + bands.growth * np.clip(stop - bands.column, 0.0, bands.length.clip(0.0)),
    )
    need = np.floor(2.0 * half_seen + 2.0).astype(np.int64) + 1
    band = np.arange(len(first))
    spans = Spans(
        np.concatenate([band, band, band]),
        np.concatenate([first, inner, outer]),
        np.concatenate([inner, outer, stop]),
        np.concatenate([need, need, need]),
        np.concatenate([np.ones_like(steep := bands.steep), np.zeros_like(steep), np.ones_like(steep)]),
    )
    return spans.where(spans.stop > spans.first)


def _visible(bands: Bands, reach: Array, columns: Ints, rows: Ints) -> tuple[Array, Array]:
    """Columns between which a band comes within ``reach`` rows of the frame."""
    flat = np.abs(bands.slope) < LEVEL_SLOPE
    slope = np.where(flat, 1.0, bands.slope)
    at_top = bands.column + (-reach - bands.row) / slope
    at_foot = bands.column + (rows + reach - bands.row) / slope
    inside = (bands.row > -reach) & (bands.row < rows + reach)
    low = np.where(flat, np.where(inside, 0.0, columns), np.minimum(at_top, at_foot))
    high = np.where(flat, columns, np.maximum(at_top, at_foot))
    return np.maximum(low, 0.0), np.minimum(high, columns)


def _pixel(place: Array, columns: Ints) -> Ints:
    """The first column whose centre is at or after a place, kept within the frame."""
    return np.ceil(np.clip(place, 0.0, columns) - 0.5).astype(np.int64)
