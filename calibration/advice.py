"""Where to set marks: the first ones, and the one more that helps most."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration import words
from calibration.lit import lit_points
from calibration.marks import Mark, tables_of
from calibration.table import Table
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

APART = 0.05
"""A further mark is not set nearer to another one than this share of the lit area's extent."""
FIRST_MARKS = "Set the first four marks near the four corners of the lit area: between them the light is surest."


@dataclass(frozen=True)
class MarkAdvice:
    """One further mark: its place, the pixel for it, the worst 95 % error of the lit area before and after."""

    at_in: tuple[float, float]
    pixel: tuple[float, float]
    where: str
    before_in: float
    after_in: float

    def sentence(self, unit: str = "in") -> str:
        """The advice in words."""
        before, after = words.error(self.before_in, unit), words.error(self.after_in, unit)
        return f"A mark near {self.where} of the lit area brings the worst error from {before} down to {after}."


def first_targets(width_px: int, height_px: int, count: int = 4, inset: float = 0.06) -> Array:
    """Pixels (count, 2) to light for the first marks, 4 to 9 of them: corners, then mid-edges, then the middle.

    The corners come near-left, near-right, far-right, far-left for a rig that is not mirrored or turned. They keep a
    share ``inset`` of the frame's height from its edges.
    """
    if not 4 <= count <= 9:
        raise ValueError("first targets are 4 to 9")
    edge = inset * height_px
    left, right, top, bottom = edge, width_px - edge, edge, height_px - edge
    middle_u, middle_v = width_px / 2, height_px / 2
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    edges = [(middle_u, bottom), (middle_u, top), (left, middle_v), (right, middle_v)]
    return np.array([*corners, *edges, (middle_u, middle_v)][:count])


def next_mark(table: Table, columns: int = 11, rows: int = 7) -> MarkAdvice | None:
    """The one further mark, of a grid over the lit area, that most lowers the worst 95 % error; None if none does."""
    made = Uncertainty(table)
    seen = lit_points(table, 21, 13)
    before = float(made.error_in(seen).max())
    places, extent = tables_of(table.marks), float(np.linalg.norm(np.ptp(seen, axis=0)))
    best: tuple[float, Array] | None = None
    for place in lit_points(table, columns, rows, inset=0.03):
        if np.linalg.norm(places - place, axis=1).min() < APART * extent:
            continue
        after = float(with_mark(table, place, made.scale).error_in(seen).max())
        if best is None or after < best[0]:
            best = after, place
    if best is None or best[0] >= before:
        return None
    x, y = best[1].tolist()
    u, v = table.to_frame([(x, y)])[0].tolist()
    return MarkAdvice((x, y), (u, v), words.spot((x, y), table.lit_area()), before, best[0])


def with_mark(table: Table, place_in: Array, scale: float = 1.0) -> Uncertainty:
    """Predicted errors as they would be with one more mark at ``place_in`` (2,)."""
    x, y = place_in.tolist()
    u, v = table.to_frame([place_in])[0].tolist()
    return Uncertainty(replace(table, marks=(*table.marks, Mark((x, y), (u, v)))), scale)
