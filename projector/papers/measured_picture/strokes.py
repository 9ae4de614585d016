"""Lines on a photograph that are seen on any colour: each with a dark edge, told apart by dashes as well."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import ImageDraw

Array = NDArray[np.float64]

EDGE = "#101418"


def line(draw: ImageDraw.ImageDraw, ends: Array, colour: str, width: int, dash: tuple[int, int] | None = None) -> None:
    """A line between two points (2, 2), in pixels; ``dash`` is how long a dash and a gap are."""
    parts = [ends] if dash is None else _dashes(ends, *dash)
    for inked, thick in ((EDGE, width + 2 * max(1, width // 3)), (colour, width)):
        for part in parts:
            draw.line([(float(x), float(y)) for x, y in part], inked, thick)


def cross(draw: ImageDraw.ImageDraw, at: Array, size: float, colour: str, width: int) -> None:
    """An upright cross about a point (2,)."""
    for step in ((size, 0), (0, size)):
        line(draw, np.array([at - step, at + step]), colour, width)


def clipped(ends: Array, width: float, height: float) -> Array | None:
    """The part of a line (2, 2) inside the rectangle from (0, 0), None where it misses it (Liang and Barsky 1984)."""
    begin, step = ends[0], ends[1] - ends[0]
    low, top = 0.0, 1.0
    for k, size in ((0, width), (1, height)):
        for sign, room in ((-1, begin[k]), (1, size - begin[k])):
            rate = sign * step[k]
            if rate == 0:
                if room < 0:
                    return None
                continue
            low, top = (max(low, room / rate), top) if rate < 0 else (low, min(top, room / rate))
    return None if low >= top else np.array([begin + low * step, begin + top * step])


def _dashes(ends: Array, dash: int, gap: int) -> list[Array]:
    step = ends[1] - ends[0]
    length = float(np.hypot(*step))
    starts = np.arange(0, length, dash + gap)
    return [np.array([ends[0] + step * s / length, ends[0] + step * min(s + dash, length) / length]) for s in starts]
