"""Calibrated tables for tests: square on, askew, seen through a mirror, with a lens, close to the horizon."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from calibration.lens import Lens
from calibration.marks import Mark
from calibration.table import Table, fit_table

CORNERS = ((0.0, 0.0), (48.0, 0.0), (48.0, 27.0), (0.0, 27.0))


def table_at(pixels: tuple[tuple[float, float], ...], width_px: int = 960, height_px: int = 540) -> Table:
    """A table of 48 x 27 in whose corners, from the origin counter-clockwise, are lit by these pixels."""
    return fit_table([Mark(corner, pixel) for corner, pixel in zip(CORNERS, pixels, strict=True)], width_px, height_px)


SQUARE = table_at(((0, 540), (960, 540), (960, 0), (0, 0)))
"""20 pixels an inch, the person at the foot of the frame."""
ASKEW = table_at(((83.3, 511.7), (921.9, 490.2), (800.4, 71.5), (140.6, 33.3)))
MIRRORED = table_at(((960, 540), (0, 540), (0, 0), (960, 0)))
"""A mirror in the light path: the frame's left is the table's right."""
STEEP = table_at(((-700, 540), (1660, 540), (620, 200), (340, 200)))
"""Seen so flat that the horizon of the map lies 3.6 in before the near edge, and the table's far end in the frame."""


def with_lens(table: Table, k1: float) -> Table:
    """The same table through a lens with a radial term."""
    return replace(table, lens=Lens.for_frame(table.width_px, table.height_px, k1))


def pixel(table: Table, x: float, y: float) -> np.ndarray:
    """The pixel of one table point, worked out from the matrix alone."""
    u, v, w = table.matrix @ np.array([x, y, 1.0])
    return np.array([u / w, v / w])
