"""Places spread over what the frame lights, for looking over it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.table import Table

Array = NDArray[np.float64]


def frame_grid(width_px: int, height_px: int, columns: int, rows: int, inset: float = 0.0) -> Array:
    """Pixels (columns x rows, 2) spread evenly over the frame, its border included unless ``inset`` (a share)."""
    across = width_px * np.linspace(inset, 1 - inset, columns)
    down = height_px * np.linspace(inset, 1 - inset, rows)
    return np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)


def lit_points(table: Table, columns: int, rows: int, inset: float = 0.0) -> Array:
    """Table points (N, 2) in inches lit by a grid of the frame, those past the lit area left out, its corners added."""
    ideal = table.ideal(frame_grid(table.width_px, table.height_px, columns, rows, inset))
    back = homography.inverse(table.matrix) * table.side
    kept = ideal[homography.denominators(back, ideal) > table.flattest]
    points = homography.apply(back, kept)
    if len(kept) < len(ideal):
        points = np.vstack([points, table.lit_area()])
    return points[homography.denominators(table.matrix, points) * table.side > 0]
