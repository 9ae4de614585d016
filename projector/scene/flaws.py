"""Flaws of the piece, outlined in zigzag."""

from __future__ import annotations

import math

from projector.scene.boxes import Box
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Point, Stroke
from projector.scene.sizes import ZIGZAG_DEPTH_IN, ZIGZAG_PITCH_IN


def flaw_marks(lit: LitStop, gone: tuple[Box, ...]) -> tuple[Stroke, ...]:
    """A zigzag outline around the lit part of each flaw, unless it lies on cloth that is ``gone``."""
    return tuple(
        Stroke(Kind.FLAW, zigzag(box)) for _, box in lit.flaws() if not any(other.holds(box) for other in gone)
    )


def zigzag(box: Box) -> tuple[Point, ...]:
    """A closed zigzag polyline just outside a box."""
    points: list[Point] = []
    corners = box.corners
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        length = math.hypot(x1 - x0, y1 - y0)
        teeth = max(1, round(length / ZIGZAG_PITCH_IN))
        out_x, out_y = (y1 - y0) / length * ZIGZAG_DEPTH_IN, (x0 - x1) / length * ZIGZAG_DEPTH_IN
        for tooth in range(teeth):
            at, mid = tooth / teeth, (tooth + 0.5) / teeth
            points.append((x0 + (x1 - x0) * at, y0 + (y1 - y0) * at))
            points.append((x0 + (x1 - x0) * mid + out_x, y0 + (y1 - y0) * mid + out_y))
    return (*points, points[0])
