"""A light meter for tests: pixel values decoded to light before anything is measured."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from projector.light.raster.canvas import Canvas
from projector.light.raster.strips import Lines, lines_px

GAMMA = 2.2
NO_LINES = lines_px([], [], 1.0)


def light_of(frame: NDArray[np.uint32]) -> NDArray[np.float64]:
    """Light of the blue channel, from 0 to 1: what a projector of gamma 2.2 shows for white lines."""
    return ((frame & 255) / 255.0) ** GAMMA


def lit(lines: Lines, width_px: int = 400, height_px: int = 300) -> NDArray[np.float64]:
    """Light of these lines on a dark frame."""
    canvas = Canvas(width_px, height_px, GAMMA)
    canvas.light(lines)
    return light_of(canvas.frame)


def column_centres(light: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Total light of each column and the row where its centre lies."""
    rows = np.arange(len(light))[:, None] + 0.5
    total = light.sum(axis=0)
    return total, (light * rows).sum(axis=0) / np.maximum(total, 1e-12)
