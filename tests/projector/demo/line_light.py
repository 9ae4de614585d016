"""From a rendered frame back to inches: where a lit line really is, by its centre in light and the true map."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from projector.demo.virtual_projector import Hung, VirtualProjector, projector_over

Packed = NDArray[np.uint32]
Array = NDArray[np.float64]
Point = tuple[float, float]


class DarkLineError(ValueError):
    """No light was found where a line was looked for."""


def line_points(frame: Packed, projector: VirtualProjector, ends_in: tuple[Point, Point], reach_px: int = 8) -> Array:
    """Table places (N, 2) of the centre of the line lit near ``ends_in``, one for each pixel row or column it crosses.

    Values are decoded with the projector's gamma before the centroid is taken; scan lines run along the frame's axis
    that is the more square to the line, ``reach_px`` to either side of where it is expected. A pixel row or column near
    the ends (within ``reach_px``) is left out. Raises DarkLineError when a scan line is dark, ValueError when it leaves
    the frame.
    """
    (u0, v0), (u1, v1) = projector.to_frame(ends_in)
    upright = abs(v1 - v0) >= abs(u1 - u0)
    if not upright:
        frame, (u0, v0, u1, v1) = frame.T, (v0, u0, v1, u1)
    if v1 < v0:
        u0, v0, u1, v1 = u1, v1, u0, v0
    rows = np.arange(int(np.ceil(v0)) + reach_px, int(np.floor(v1)) - reach_px)
    expected = u0 + (u1 - u0) * (rows + 0.5 - v0) / (v1 - v0)
    columns = np.floor(expected).astype(int)[:, None] + np.arange(-reach_px, reach_px + 1)
    if columns.min() < 0 or columns.max() >= frame.shape[1] or rows.min() < 0 or rows.max() >= frame.shape[0]:
        raise ValueError("the line leaves the frame")
    window = _light(frame[rows[:, None], columns], projector.gamma)
    total = window.sum(axis=1)
    if not (total > 0.5).all():
        raise DarkLineError(f"{int((total <= 0.5).sum())} of {rows.size} scan lines show no line")
    centre = (window * (columns + 0.5)).sum(axis=1) / total
    pixels = np.column_stack([centre, rows + 0.5])
    return projector.to_table(pixels if upright else pixels[:, ::-1])


def _light(frame: Packed, gamma: float) -> Array:
    """Light (rows, columns) of packed pixels: the mean of the three channels, full white 1."""
    levels = (np.arange(256) / 255.0) ** gamma
    channels = [levels[(frame >> np.uint32(shift)) & np.uint32(255)] for shift in (16, 8, 0)]
    return (channels[0] + channels[1] + channels[2]) / 3


def random_projector(rng: np.random.Generator) -> VirtualProjector:
    """A projector over a table of 96 x 60 in from any side, tilted up to 25 degrees and rolled a little."""
    tilt, towards, roll = (float(rng.uniform(*span)) for span in ((0, 25), (0, 360), (-4, 4)))
    return projector_over(96.0, 60.0, Hung(float(rng.uniform(80, 120)), tilt, towards, roll))
