"""A code of light and dark squares laid on the table, for the camera of a phone that is let in."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calibration.table import Table

SIDE_IN = 9.0
SHARE = 0.45
"""How large it is at most: inches of the table, and a share of the frame's height."""
QUIET = 4
"""Squares of light around it (ISO/IEC 18004: four modules)."""
LIGHT = 0xFFFFFF

Card = tuple[str, ...]
"""Rows of 0 (light) and 1 (dark), the uppermost first."""


def read_card(told: str) -> Card:
    """The rows as they are sent, parted by strokes; none for what is no square of 0 and 1."""
    rows = tuple(told.split("/"))
    square = all(len(row) == len(rows) and set(row) <= {"0", "1"} for row in rows)
    return rows if square and len(rows) <= 177 else ()


def lay_card(pixels: NDArray[np.uint32], card: Card, table: Table) -> None:
    """Write the code into a frame (height, width), upright for the person, in the middle of the light."""
    height, width = pixels.shape
    middle = table.to_table([[width / 2, height / 2]])[0]
    ends = table.to_table([[width / 2, height / 2 * (1 - SHARE)], [width / 2, height / 2 * (1 + SHARE)]])
    side = min(SIDE_IN, float(np.linalg.norm(ends[1] - ends[0])))
    corners = table.to_frame(middle + side / 2 * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]))
    low = np.clip(np.floor(corners.min(axis=0)).astype(int), 0, (width, height))
    high = np.clip(np.ceil(corners.max(axis=0)).astype(int), 0, (width, height))
    u, v = np.meshgrid(np.arange(low[0], high[0]), np.arange(low[1], high[1]))
    if not u.size:
        return
    squares = np.pad(np.array([[mark == "0" for mark in row] for row in card]), QUIET, constant_values=True)
    inches = table.to_table(np.column_stack([u.ravel() + 0.5, v.ravel() + 0.5])) - middle
    places = (inches * (1, -1) / side + 0.5) * len(squares)
    column, row = np.floor(places).astype(int).T
    inside = (column >= 0) & (row >= 0) & (column < len(squares)) & (row < len(squares))
    lit = squares[row[inside], column[inside]]
    pixels[v.ravel()[inside], u.ravel()[inside]] = np.where(lit, LIGHT, 0)
