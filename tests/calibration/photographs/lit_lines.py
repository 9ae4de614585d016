"""A table put to the proof on its own light: lines drawn by it, and where on the true table they are lit."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calibration.table import Table
from projector.demo.virtual_projector import VirtualProjector
from projector.light.raster.canvas import Canvas
from projector.light.warp import draw
from projector.scene.marks import Kind, Scene, Stroke
from tests.projector.demo.line_light import line_points

Array = NDArray[np.float64]

LINES, INSET = 7, 0.03
"""So many lines each way, this share of the frame inside its border."""


def lit_lines_off_in(table: Table, lit: VirtualProjector, crosses_in: Array) -> float:
    """How far, square to it, the light of a cut line falls from where it is meant, at the worst place of all lines.

    Lines along and across the whole frame are drawn by ``table`` and found in the frame that comes of it;
    ``crosses_in`` (2, 2) are the places on the true table from which inches are counted.
    """
    first, second = crosses_in
    along = (second - first) / np.linalg.norm(second - first)
    turn = np.array([along, (-along[1], along[0])])
    size = np.array([table.width_px, table.height_px])
    farthest = 0.0
    for axis in (0, 1):
        spread = np.linspace(INSET, 1 - INSET, LINES)
        shares = np.stack(np.meshgrid(spread, (INSET, 1 - INSET), indexing="ij"), axis=-1)[:, :, :: 1 - 2 * axis]
        ends = table.to_table(shares.reshape(-1, 2) * size).reshape(LINES, 2, 2)
        canvas = Canvas(table.width_px, table.height_px)
        strokes = [Stroke(Kind.CUT, ((a, b), (c, d))) for (a, b), (c, d) in ends.tolist()]
        draw(Scene(tuple(strokes)), table, canvas)
        for from_in, to_in in ends:
            there = np.array([from_in, to_in]) @ turn + first
            (a, b), (c, d) = there.tolist()
            met = (line_points(canvas.frame, lit, ((a, b), (c, d))) - first) @ turn.T
            onward = (to_in - from_in) / np.linalg.norm(to_in - from_in)
            farthest = max(farthest, float(np.abs((met - from_in) @ (-onward[1], onward[0])).max()))
    return farthest
