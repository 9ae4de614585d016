"""Coverage of the pixels of a chunk where ends are felt, raised in the frame."""

from __future__ import annotations

import numpy as np

from projector.light.columns import FAR, Columns, Raster
from projector.light.encoding import tent_step
from projector.light.palette import COVERAGE_LENGTH, COVERAGE_STEPS, Palette

ROWS = 8
"""Rows of a band worked out at a time."""


def near_ends(raster: Raster, columns: Columns, palette: Palette) -> None:
    """Where an end is felt: both edges, and the cut across the line, enter the coverage."""
    colour = columns.colour * COVERAGE_LENGTH
    wide = bool(columns.half.min(initial=FAR) >= 1.0)
    for top in range(0, columns.rows, ROWS):
        rows = np.arange(top, min(top + ROWS, columns.rows))[:, None]
        coverage, distance = columns.ends.seen(columns.offset + rows.astype(np.float32))
        side = tent_step(columns.half - distance)
        if not wide:
            side += tent_step(columns.half + distance)
            side -= np.float32(1.0)
        coverage *= side
        coverage *= np.float32(COVERAGE_STEPS)
        coverage += np.float32(0.5)
        index = coverage.astype(np.intp)
        index += colour
        values = np.take(palette.by_coverage, index, mode="clip")
        raster.raise_to(columns.places(rows).reshape(-1), values.reshape(-1))
