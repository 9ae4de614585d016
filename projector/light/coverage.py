"""Coverage of the pixels of a chunk, raised in the frame: three ways of working it out."""

from __future__ import annotations

import numpy as np

from projector.light.columns import FAR, Columns, Ends, Raster, Scratch
from projector.light.encoding import tent_step
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


def by_nearer_edge(raster: Raster, columns: Columns, palette: Palette, scratch: Scratch) -> None:
    """Lines two pixels wide and more, away from their ends: the nearer edge alone decides, straight from the table."""
    size = len(columns.offset)
    distance, work = scratch.distance[:size], scratch.work[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    base = (columns.colour * EDGE_LENGTH).astype(np.float32)
    inside = columns.half * EDGE_STEPS + base + (EDGE_REACH * EDGE_STEPS + 0.5)
    full = base + (EDGE_LENGTH - 0.5)
    np.multiply(columns.offset, EDGE_STEPS, out=distance)
    for number in range(columns.places.need):
        np.abs(distance, out=work)
        np.subtract(inside, work, out=work)
        np.minimum(work, full, out=work)
        np.copyto(index, work, casting="unsafe")
        np.take(palette.by_edge, index, out=value, mode="clip")
        np.maximum.at(raster.flat, columns.places.row(number), value)
        distance += EDGE_STEPS


def by_both_edges(raster: Raster, columns: Columns, palette: Palette, scratch: Scratch) -> None:
    """Lines less than two pixels wide, away from their ends: both edges enter, from a table by width and distance."""
    size = len(columns.offset)
    distance, work = scratch.distance[:size], scratch.work[:size]
    index, value = scratch.index[:size], scratch.value[:size]
    colour = (columns.colour * NARROW_SIZE + 0.5).astype(np.float32)
    by_width = np.rint(columns.half * NARROW_STEPS) * NARROW_LENGTH + colour
    np.multiply(columns.offset, NARROW_STEPS, out=distance)
    for number in range(columns.places.need):
        np.abs(distance, out=work)
        work += by_width
        np.copyto(index, work, casting="unsafe")
        np.take(palette.by_width, index, out=value, mode="clip")
        np.maximum.at(raster.flat, columns.places.row(number), value)
        distance += NARROW_STEPS


def near_ends(raster: Raster, columns: Columns, ends: Ends, palette: Palette) -> None:
    """Where an end is felt: both edges, and the cut across the line, enter the coverage."""
    colour = columns.colour * COVERAGE_LENGTH
    wide = bool(columns.half.min(initial=FAR) >= 1.0)
    for number in range(columns.places.need):
        coverage, distance = ends.seen(columns.offset + np.float32(number))
        side = tent_step(columns.half - distance)
        if not wide:
            side += tent_step(columns.half + distance)
            side -= np.float32(1.0)
        coverage *= side
        coverage *= np.float32(COVERAGE_STEPS)
        coverage += np.float32(0.5)
        index = coverage.astype(np.intp)
        index += colour
        np.maximum.at(raster.flat, columns.places.row(number), np.take(palette.by_coverage, index, mode="clip"))
