"""Columns of bands near their ends, laid side by side: what the pixels of a column have in common."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.bands import Bands, Spans
from projector.light.encoding import Floats, Packed, tent_step
from projector.light.touched import Touched

MARGIN = 32
"""Spare pixels around the frame, so that bands that stick out need no test pixel by pixel."""
CHUNK = 8192
"""Columns worked on at a time: small enough to stay in a core's cache."""
COLUMNS = 4096
"""Columns near ends worked on at a time: all rows of them go together."""
FAR = np.float32(9.0)
"""Pixels from an end, standing for so far that it is not felt."""

Indices = NDArray[np.intp]


@dataclass(frozen=True)
class Raster:
    """A frame with its margin, flat: values to be raised, the size of the frame proper, ``stride`` places from one row
    to the next, and what has been drawn."""

    flat: Packed
    width_px: int
    height_px: int
    stride: int
    touched: Touched

    def raise_to(self, places: Indices, values: Packed) -> None:
        """Raises pixels to values, each to the greatest given for it."""
        np.maximum.at(self.flat, places, values)
        self.touched.pixels(places)


class Scratch:
    """Working memory for a chunk, kept between frames: fresh memory costs more than the arithmetic.

    A chunk is never longer than ``CHUNK`` or, where that is more, than the frame's longer side.
    """

    def __init__(self, width_px: int, height_px: int) -> None:
        size = max(CHUNK, width_px, height_px)
        self.size = size
        self.numbers = np.arange(size)
        self.counted = np.arange(size, dtype=np.float64)
        self.place = np.empty(size, np.intp)
        self.index = np.empty(size, np.intp)
        self.share = np.empty(size, np.float64)
        self.value = np.empty(size, np.uint32)


@dataclass(frozen=True)
class Ends:
    """How far each column lies inside the two ends of its line, (n,) each.

    In pixels along the line times the stretch, so that one column is one tent step, as across the line. ``lean`` is
    what one row across adds; ``goes_on`` (2, n) tells which ends are joined, None when none is.
    """

    start: Floats
    rest: Floats
    lean: Floats
    goes_on: NDArray[np.bool_] | None
    tiny: bool

    def seen(self, offset: Floats) -> tuple[Floats, Floats]:
        """Share of each pixel (rows, n) that lies between the ends, and its distance across, round where the line
        goes on."""
        leant = self.lean * offset
        start, rest = self.start + leant, self.rest - leant
        distance = np.abs(offset)
        if self.goes_on is not None:
            beyond = np.maximum(np.where(self.goes_on[0], -start, 0.0), np.where(self.goes_on[1], -rest, 0.0))
            distance = np.hypot(distance, np.maximum(beyond, 0.0, dtype=np.float32))
            start, rest = np.where(self.goes_on[0], FAR, start), np.where(self.goes_on[1], FAR, rest)
        if self.tiny:
            return tent_step(start) + tent_step(rest) - np.float32(1.0), distance
        return tent_step(np.minimum(start, rest)), distance


@dataclass(frozen=True)
class Columns:
    """A chunk of columns (n,) that need ``rows`` rows: distance of the first row's centre from the line, half width
    across, row of the colour in the palette, the ends, and where their pixels lie.

    The pixel in row k of a column lies at ``base + (top + MARGIN + k) * step`` of the flat frame, ``top + k`` held to
    -1 and ``last`` where that is given: bands may reach beyond the margin.
    """

    rows: int
    offset: Floats
    half: Floats
    colour: Indices
    ends: Ends
    base: Indices
    top: Indices
    step: Indices
    last: Indices | None

    def places(self, rows: Indices) -> Indices:
        """Where the pixels (rows, n) of these rows (rows, 1) lie in the flat frame."""
        down = self.top + rows
        if self.last is not None:
            down = np.clip(down, -1, self.last)
        down += MARGIN
        down *= self.step
        down += self.base
        return down


def single(values: NDArray[np.float64]) -> Floats:
    """In single precision."""
    return values.astype(np.float32)


def columns_of(raster: Raster, bands: Bands, spans: Spans, colours: Indices) -> Columns:
    """The columns of spans that all need as many rows; ``colours`` is the row in the palette of each band.

    What a span has in common is worked out once, in double precision, and spread over its columns in single: numbers
    stay below the frame's size wherever they matter, so rounding stays below 0.0003 px.
    """
    width = spans.stop - spans.first
    chosen = spans.band
    # All that is spread over columns goes as one table, for that is one call.
    slope, growth = bands.slope[chosen], bands.growth[chosen]
    start, length = spans.first + 0.5 - bands.column[chosen], bands.length[chosen]
    near, far = bands.half[chosen], bands.half[chosen] + growth * length
    square = bands.stretch[chosen] ** 2
    steep = bands.steep[chosen]
    row_step, column_step = np.where(steep, 1, raster.stride), np.where(steep, raster.stride, 1)
    before = np.cumsum(width) - width
    common = np.repeat(
        single(
            np.array(
                [
                    slope,
                    bands.row[chosen] + slope * start,
                    growth,
                    near + growth * start,
                    np.minimum(near, far),
                    np.maximum(near, far),
                    square,
                    start * square,
                    (length - start) * square,
                ]
            )
        ),
        width,
        axis=1,
    )
    whole = np.repeat(
        np.array([(spans.first + MARGIN - before) * column_step, column_step, row_step, colours[chosen], before]),
        width,
        axis=1,
    )
    column = np.arange(whole.shape[1])
    number = (column - whole[4]).astype(np.float32)
    centre = common[0] * number
    centre += common[1]
    half = common[2] * number
    half += common[3]
    np.clip(half, common[4], common[5], out=half)
    steps = common[6] * number
    joined = bands.joined[chosen]
    ends = Ends(
        common[7] + steps,
        common[8] - steps,
        common[0],
        np.repeat(joined.T, width, axis=1) if joined.any() else None,
        # Both ends share a pixel only in pieces shorter than the filter.
        bool((length * square).min(initial=9.0) < 2.0),
    )
    top = centre - half
    top -= np.float32(1.5)
    np.ceil(top, out=top)
    offset = top - centre
    offset += np.float32(0.5)
    base = column * whole[1]
    base += whole[0]
    last = np.repeat(np.where(steep, raster.width_px, raster.height_px), width) if _reaches_far(bands, spans) else None
    return Columns(int(spans.rows[0]), offset, half, whole[3], ends, base, top.astype(np.intp), whole[2], last)


def _reaches_far(bands: Bands, spans: Spans) -> bool:
    """Whether a band may be drawn beyond the margin: columns are looked at as far out as it is wide anywhere."""
    chosen = spans.band
    fattest = np.maximum(bands.half[chosen], bands.half[chosen] + bands.growth[chosen] * bands.length[chosen])
    return bool(fattest.max(initial=0.0) > (MARGIN - 6) / 2)
