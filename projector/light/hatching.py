"""Hatching: parallel strokes that fill a simple polygon."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from projector.scene.marks import Point

SPACING_IN = 1.5
ANGLE_DEG = 45.0


def hatch(
    outline: Sequence[Point], spacing_in: float = SPACING_IN, angle_deg: float = ANGLE_DEG
) -> list[tuple[Point, Point]]:
    """Strokes across a simple polygon (table inches), parallel, the first half a space in from its lowest corner.

    Even-odd rule, so that a polygon that bends inwards is filled rightly; outlines without area give nothing.
    """
    points = np.array(outline, np.float64).reshape(-1, 2)
    if len(points) < 3:
        return []
    turn = np.radians(angle_deg)
    along, across = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    level = points @ across
    reach = points @ along
    strokes: list[tuple[Point, Point]] = []
    for height in np.arange(level.min() + spacing_in / 2, level.max(), spacing_in):
        a, b = level - height, np.roll(level, -1) - height
        # A corner exactly on the line counts with the edge above it, so that crossings come in pairs.
        crossing = (a >= 0) != (b >= 0)
        share = a[crossing] / (a[crossing] - b[crossing])
        places = np.sort(reach[crossing] + share * (np.roll(reach, -1) - reach)[crossing])
        for start, stop in zip(places[::2], places[1::2], strict=True):
            p, q = along * start + across * height, along * stop + across * height
            strokes.append(((float(p[0]), float(p[1])), (float(q[0]), float(q[1]))))
    return strokes
