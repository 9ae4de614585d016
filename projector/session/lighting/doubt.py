"""How far off a lit line may be, square to it, by a calibration: what a cut feels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from calibration.table import Table
from calibration.uncertainty import Uncertainty
from projector.scene.boxes import Box
from projector.scene.marks import Point
from projector.session.saying.area import words_area
from projector.words.measures import format_error

LOOKS = 33


@dataclass(frozen=True)
class Doubt:
    """``error_of`` a line and the tolerance it is held against, both inches; ``say`` puts an error into words."""

    error_of: Callable[[Point, Point], float]
    tolerance_in: float
    say: Callable[[float], str]
    is_lit: Callable[[Box], bool]


def doubt_of(table: Table, tolerance_in: float, unit: str = "in") -> Doubt:
    """The doubt that a calibration leaves; lines count as far as they are lit, and not at all where they are not.

    What is said beside a line stands where all words stand: lit, and on the table.
    """
    made = Uncertainty(table)
    area = words_area(table)

    @lru_cache(maxsize=256)
    def error_of(start: Point, end: Point) -> float:
        points = np.array(start) + np.linspace(0, 1, LOOKS)[:, None] * np.subtract(end, start)
        lit = points[table.contains(points)]
        return 0.0 if len(lit) < 2 else made.along_line(lit[0], lit[-1]).across_in

    def say(error_in: float) -> str:
        return f"within {format_error(error_in, unit)}"

    def is_lit(box: Box) -> bool:
        return all(_is_inside(corner, area) for corner in box.corners)

    return Doubt(error_of, tolerance_in, say, is_lit)


def _is_inside(point: Point, area: tuple[Point, ...]) -> bool:
    """Whether a place lies in a convex area, corners in either order."""
    (x, y), turned = point, zip(area, (*area[1:], area[0]), strict=True)
    sides = [(x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) for (x0, y0), (x1, y1) in turned]
    return min(sides) >= 0 or max(sides) <= 0
