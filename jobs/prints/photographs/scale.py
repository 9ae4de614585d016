"""How many pixels an inch of the cloth takes in a picture, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jobs.prints.photographs.laid import Laid
from jobs.prints.photographs.level import mapped

MARK_DOUBT_PX = 1.5
"""Standard error of a place pointed at in a picture, in pixels of the file."""
TAPE_DOUBT_IN = 0.02
"""Of a length read from a ruler or tape to the nearest sixteenth of an inch (JCGM 100: a sixteenth over root 12)."""

Pixel = tuple[float, float]


@dataclass(frozen=True)
class Scale:
    """Level pixels an inch, the share by which that may be off (one standard error), and what it was taken from."""

    per_inch: float
    doubt: float
    source: str


def between_points(laid: Laid, one: Pixel, other: Pixel, distance_in: float) -> Scale:
    """From two points of the picture that lie ``distance_in`` apart on the cloth. Raises ValueError for one point."""
    seen = mapped(laid.level, np.array([one, other], float))
    apart = float(np.hypot(*(seen[1] - seen[0])))
    if not apart > 0:
        raise ValueError("two points are needed")
    return Scale(apart / distance_in, _share(apart, distance_in, MARK_DOUBT_PX), "two points")


def across_cloth(laid: Laid, left: Pixel, right: Pixel, width_in: float, mark_doubt_px: float, source: str) -> Scale:
    """From a point of each selvedge and the cloth width, which is measured at right angles to the warp.

    Raises ValueError where both lie on one side.
    """
    seen = mapped(laid.level, np.array([left, right], float))
    ends = mapped(laid.level @ laid.in_file, np.array([(0, 0), (1, 0)], float))
    warp = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    between = seen[1] - seen[0]
    apart = abs(float(between[0] * warp[1] - between[1] * warp[0]))
    if not apart > 0:
        raise ValueError("two selvedges are needed")
    return Scale(apart / width_in, _share(apart, width_in, mark_doubt_px), source)


def _share(apart: float, distance_in: float, mark_doubt_px: float) -> float:
    return float(np.hypot(2**0.5 * mark_doubt_px / apart, TAPE_DOUBT_IN / distance_in))
