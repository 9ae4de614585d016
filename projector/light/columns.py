"""Columns of bands laid side by side: everything that the pixels of a chunk have in common, column by column."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from projector.light.bands import Bands, Spans
from projector.light.encoding import Floats, Packed, tent_step

MARGIN = 32
"""Spare pixels around the frame, so that bands that stick out need no test pixel by pixel."""
CHUNK = 8192
"""Columns worked on at a time: small enough to stay in a core's cache."""
FAR = np.float32(9.0)
"""Pixels from an end, standing for so far that it is not felt."""

Indices = NDArray[np.intp]
Number = TypeVar("Number", bound=np.generic)


@dataclass(frozen=True)
class Raster:
    """A frame with its margin, flat: values to be raised, and the size of the frame proper."""

    flat: Packed
    width_px: int
    height_px: int

    @property
    def stride(self) -> int:
        """Places from one row to the next."""
        return self.width_px + 2 * MARGIN


class Scratch:
    """Working memory for a chunk, kept between frames: fresh memory costs more than the arithmetic.

    A chunk is never longer than ``CHUNK`` or, where that is more, than the frame's longer side.
    """

    def __init__(self, width_px: int, height_px: int) -> None:
        size = max(CHUNK, width_px, height_px)
        self.size = size
        self.distance = np.empty(size, np.float32)
        self.work = np.empty(size, np.float32)
        self.index = np.empty(size, np.intp)
        self.numbers = np.arange(size)
        self.value = np.empty(size, np.uint32)


class Places:
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


@dataclass(frozen=True)
class Ends:
    """How far each column lies inside the two ends of its line, (n,) each.

    In pixels along the line times the stretch, so that one column is one tent step, as across the line. ``lean`` is
    what one row across adds; ``goes_on`` (2, n) tells which ends are joined.
    """

    start: Floats
    rest: Floats
    lean: Floats
    goes_on: NDArray[np.bool_]
    any_joined: bool
    tiny: bool

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


@dataclass(frozen=True)
class Columns:
    """A chunk of columns (n,): distance of the first row's centre from the line, half width across, colour row, where
    the pixels lie, and the ends where they are felt."""

    offset: Floats
    half: Floats
    colour: Indices
    places: Places
    ends: Ends | None


def single(values: NDArray[np.float64]) -> Floats:
    """In single precision."""
    return values.astype(np.float32)


def columns_of(
    raster: Raster, bands: Bands, spans: Spans, colours: Indices, with_ends: bool, scratch: Scratch
) -> Columns:
    """The columns of spans that all need as many rows.

    What a span has in common is worked out once, in double precision, and spread over its columns in single: numbers
    stay below the frame's size wherever they matter, so rounding stays below 0.0003 px.
    """
    width = spans.stop - spans.first
    chosen = spans.band

    def spread(values: NDArray[Number]) -> NDArray[Number]:
        return np.repeat(values, width)

    column = scratch.numbers[: int(width.sum())] - spread(np.cumsum(width) - width)
    number = column.astype(np.float32)
    start = spans.first + 0.5 - bands.column[chosen]
    centre = spread(single(bands.slope[chosen])) * number
    centre += spread(single(bands.row[chosen] + bands.slope[chosen] * start))
    half = spread(single(bands.growth[chosen])) * number
    half += spread(single(bands.half[chosen] + bands.growth[chosen] * start))
    ends = None
    if with_ends:
        first, last = bands.half[chosen], bands.half[chosen] + bands.growth[chosen] * bands.length[chosen]
        half = np.clip(half, spread(single(np.minimum(first, last))), spread(single(np.maximum(first, last))))
        square = bands.stretch[chosen] ** 2
        steps = spread(single(square)) * number
        before = spread(single(start * square)) + steps
        after = spread(single((bands.length[chosen] - start) * square)) - steps
        goes_on = np.repeat(bands.joined[chosen].T, width, axis=1)
        # Both ends share a pixel only in pieces shorter than the filter.
        tiny = bool((bands.length[chosen] * square).min(initial=9.0) < 2.0)
        ends = Ends(before, after, spread(single(bands.slope[chosen])), goes_on, bool(goes_on.any()), tiny)
    top = centre - half
    top -= np.float32(1.5)
    np.ceil(top, out=top)
    offset = top - centre
    offset += np.float32(0.5)
    steep = bands.steep[chosen]
    row_step, column_step = np.where(steep, 1, raster.stride), np.where(steep, raster.stride, 1)
    column *= spread(column_step)
    column += spread((spans.first + MARGIN) * column_step)
    need = int(spans.rows[0])
    rim = spread(np.where(steep, raster.width_px, raster.height_px)) if need > MARGIN - 4 else None
    places = Places(column, top.astype(np.intp), spread(row_step), need, rim)
    return Columns(offset, half, spread(colours[chosen]), places, ends)
