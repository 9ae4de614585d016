"""Where the ends of lines are felt: both edges and the cut across the line enter the coverage of every pixel.

Strips are worked on in runs of a few columns each, many runs at once: arrays are (columns, runs), and (rows, columns,
runs) for pixels.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from projector.light.raster.arrays import Array, Flags, Indices, Singles
from projector.light.raster.frame import MARGIN, FlatFrame
from projector.light.raster.palette import COVERAGE_LENGTH, COVERAGE_STEPS, Palette, between_steps, tent_step
from projector.light.raster.strips import Spans, Strips, grouped

WIDTHS = np.array([2, 4, 6, 8])
"""Columns of a run: of the width next to its own, for runs of one width go together."""
MANY_PX = 16384
"""So many pixels of runs of one width and height are worked out by themselves: fewer go with those next larger."""
ROWS = 8
"""Rows of a strip worked out at a time."""
PIXELS = 65536
"""Pixels worked on at a time."""
FAR = np.float32(9.0)
"""Pixels from an end, standing for so far that it is not felt."""


@dataclass(frozen=True)
class _Ends:
    """How far each column lies inside the two ends of its line (columns, runs).

    In pixels along the line times the stretch, so that one column is one tent step, as across the line. ``lean``
    (runs,) is what one row across adds; ``goes_on`` (2, runs) tells which ends are joined, None when none is.
    """

    start: Singles
    rest: Singles
    lean: Singles
    goes_on: Flags | None
    tiny: bool

    def seen(self, offset: Singles) -> tuple[Singles, Singles]:
        """Share of each pixel that lies between the ends, and its distance across, round where the line goes on."""
        leant = self.lean * offset
        start, rest = self.start + leant, self.rest - leant
        distance = np.abs(offset)
        if self.goes_on is not None:
            beyond = np.maximum(np.where(self.goes_on[0], -start, 0.0), np.where(self.goes_on[1], -rest, 0.0))
            distance = np.hypot(distance, np.maximum(beyond, 0.0, dtype=np.float32))
            start, rest = np.where(self.goes_on[0], FAR, start), np.where(self.goes_on[1], FAR, rest)
        if self.tiny:
            return between_steps(start, rest), distance
        return tent_step(np.minimum(start, rest)), distance


@dataclass(frozen=True)
class _Places:
    """Where the pixels of runs lie in the flat frame: ``base`` (columns, runs) and ``step`` (runs,) a row.

    ``last`` (runs,) is given for strips that may reach beyond the margin: their rows are held to -1 and that one.
    """

    top: Indices
    base: Indices
    step: Indices
    last: Indices | None

    def of_rows(self, rows: Indices) -> Indices:
        """Places (rows, columns, runs) of the pixels in these rows (rows, 1, 1), counted from the strip's first."""
        if self.last is None:
            return (self.base + self.top * self.step) + rows * self.step
        return self.base + np.clip(self.top + rows, -1, self.last) * self.step


@dataclass(frozen=True)
class _Shapes:
    """What is the same all along a strip, worked out once for all (n,): least and greatest half width, and the places
    that a row and a column take in the frame."""

    strips: Strips
    square: Array
    slope: Singles
    growth: Singles
    least: Singles
    most: Singles
    row_step: Indices
    column_step: Indices
    colour: Indices


def _shapes_of(strips: Strips, colours: Indices, stride: int) -> _Shapes:
    far = strips.half + strips.growth * strips.length
    return _Shapes(
        strips,
        strips.stretch**2,
        _single(strips.slope),
        _single(strips.growth),
        _single(np.minimum(strips.half, far)),
        _single(np.maximum(strips.half, far)),
        np.where(strips.steep, 1, stride),
        np.where(strips.steep, stride, 1),
        colours * COVERAGE_LENGTH,
    )


def draw_with_ends(raster: FlatFrame, strips: Strips, spans: Spans, colours: Indices, palette: Palette) -> None:
    """Raises every pixel of the spans; ``colours`` is the row in the palette of each strip."""
    runs, shapes = _in_runs(spans), _shapes_of(strips, colours, raster.stride)
    wide, rows_of = _sizes(runs)
    joined = (strips.joined[0] | strips.joined[1])[runs.strip]
    key = (rows_of * (int(WIDTHS[-1]) + 1) + wide) * 2 + joined
    order = grouped(key)
    runs, wide, rows_of, key = runs.where(order), wide[order], rows_of[order], key[order]
    breaks = np.flatnonzero(np.diff(key)) + 1
    for begin, end in zip([0, *breaks], [*breaks, len(key)], strict=True):
        while begin < end:
            columns, rows = int(wide[begin]), int(rows_of[begin])
            upto = min(begin + max(PIXELS // (columns * min(rows, ROWS)), 1), end)
            _draw_alike(raster, shapes, runs.where(slice(begin, upto)), (columns, rows), palette)
            begin = upto


def _in_runs(spans: Spans) -> Spans:
    """The spans cut into runs of no more columns than the largest of ``WIDTHS``."""
    most = int(WIDTHS[-1])
    parts = -(-(spans.stop - spans.first) // most)
    pick = np.repeat(np.arange(len(parts)), parts)
    first = spans.first[pick] + (np.arange(len(pick)) - (np.cumsum(parts) - parts)[pick]) * most
    return Spans(
        spans.strip[pick], first, np.minimum(first + most, spans.stop[pick]), spans.rows[pick], spans.near_end[pick]
    )


def _sizes(runs: Spans) -> tuple[Indices, Indices]:
    """Over how many columns and rows each run is worked out: its own where many are of that size."""
    columns, rows = runs.stop - runs.first, runs.rows
    size = rows * (int(WIDTHS[-1]) + 1) + columns
    many = np.bincount(size)[size] * columns * rows >= MANY_PX
    return np.where(many, columns, WIDTHS[np.searchsorted(WIDTHS, columns)]), np.where(many, rows, rows + (rows & 1))


def _draw_alike(raster: FlatFrame, shapes: _Shapes, runs: Spans, size: tuple[int, int], palette: Palette) -> None:
    """Runs that are worked out over as many columns and rows, ``size``; those beyond their own are left dark.

    What a run has in common is worked out in double precision, then all in single: numbers stay below the frame's size
    wherever they matter, so rounding stays below 0.0003 px.
    """
    strip, strips, (columns, height) = runs.strip, shapes.strips, size
    number = np.arange(columns)[:, None]
    step = number.astype(np.float32)
    start, length, square = runs.first + 0.5 - strips.column[strip], strips.length[strip], shapes.square[strip]
    slope = shapes.slope[strip]
    centre = slope * step
    centre += _single(strips.row[strip] + strips.slope[strip] * start)
    most = shapes.most[strip]
    half = shapes.growth[strip] * step
    half += _single(strips.half[strip] + strips.growth[strip] * start)
    np.maximum(half, shapes.least[strip], out=half)
    np.minimum(half, most, out=half)
    steps = _single(square) * step
    joined = strips.joined[:, strip]
    ends = _Ends(
        steps + _single(start * square),
        _single((length - start) * square) - steps,
        slope,
        joined if joined.any() else None,
        # Both ends share a pixel only in pieces shorter than the filter.
        bool((length * square).min(initial=9.0) < 2.0),
    )
    top = centre - half
    top -= np.float32(1.5)
    np.ceil(top, out=top)
    offset = top - centre
    offset += np.float32(0.5)
    row_step = shapes.row_step[strip]
    # Columns are looked at as far out as a strip is wide anywhere.
    last = None
    if float(most.max(initial=0.0)) > (MARGIN - 6) / 2:
        last = np.where(strips.steep[strip], raster.width_px, raster.height_px)
    base = (number + (runs.first + MARGIN)) * shapes.column_step[strip] + MARGIN * row_step
    places = _Places(top.astype(np.int32).astype(np.intp), base, row_step, last)

    colour = shapes.colour[strip]
    own = (number < runs.stop - runs.first) * np.float32(COVERAGE_STEPS)
    wide = bool(half.min(initial=FAR) >= 1.0)
    for first in range(0, height, ROWS):
        rows = np.arange(first, min(first + ROWS, height))[:, None, None]
        coverage, distance = ends.seen(offset + rows.astype(np.float32))
        coverage *= tent_step(half - distance) if wide else between_steps(half - distance, half + distance)
        coverage *= own
        coverage += np.float32(0.5)
        index = coverage.astype(np.int32).astype(np.intp)
        index += colour
        values = palette.by_coverage.take(index, mode="clip")
        raster.raise_to(places.of_rows(rows).reshape(-1), values.reshape(-1))


def _single(values: Array) -> Singles:
    """In single precision."""
    return values.astype(np.float32)
