"""The pattern that is lit for photographs: a chessboard with a coded square in each white field, and two crosses.

Every inner corner of the board has a number, which a camera that sees a few codes around it can tell; the crosses are
what the person lays the tape between. Frame pixels are counted from the frame's top left corner; a corner of the board
stands on the border between pixels, so all its places are whole numbers.
The board is the open ChArUco one (S. Garrido-Jurado and others, Pattern Recognition 47, 2014; OpenCV's ``aruco``).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

MODULES = 10
"""Modules along a field: a code of 5 by 5 with its black rim takes 7, the rest is the white that sets it off."""
CODE_MODULES = 7
MOST_CODES = 200
"""Codes in use, of the 250 that the dictionary has; more would be smaller than a telephone sees from a table's end."""
LEAST_SIDE_PX = 20
"""Fields smaller than this are no pattern: a frame below about 100 pixels."""
LEAST_FIELDS = 5


class NoPattern(ValueError):  # noqa: N818 - says what happened
    """The frame is too small, or too narrow, for a pattern."""


@dataclass(frozen=True)
class Pattern:
    """The pattern for a frame of this size: as many square fields as its codes allow, in the middle of the frame.

    Raises ``NoPattern`` for a frame that holds no five by five fields.
    """

    width_px: int
    height_px: int

    def __post_init__(self) -> None:
        if min(self.columns, self.rows) < LEAST_FIELDS:
            raise NoPattern(f"no pattern fits a frame of {self.width_px} by {self.height_px} pixels")

    @cached_property
    def side_px(self) -> int:
        """Side of a field: the least whole number of pixels a module with which the codes suffice."""
        module = LEAST_SIDE_PX // MODULES
        while (self.width_px // (MODULES * module)) * (self.height_px // (MODULES * module)) > 2 * MOST_CODES:
            module += 1
        return MODULES * module

    @property
    def columns(self) -> int:
        return self.width_px // self.side_px

    @property
    def rows(self) -> int:
        return self.height_px // self.side_px

    @property
    def start_px(self) -> tuple[int, int]:
        """Top left corner of the board in the frame."""
        return (self.width_px - self.columns * self.side_px) // 2, (self.height_px - self.rows * self.side_px) // 2

    def is_white(self, column: int, row: int) -> bool:
        """Whether a field is lit; the top left one is dark. White fields carry a code each, dark ones none."""
        return (column + row) % 2 == 1

    def corner_of(self, column: int, row: int) -> tuple[int, int]:
        """The top left corner of a field in the frame."""
        left, top = self.start_px
        return left + column * self.side_px, top + row * self.side_px

    @cached_property
    def white_fields(self) -> tuple[tuple[int, int], ...]:
        """Column and row of each white field, row by row: the code in the first has the number 0."""
        return tuple((c, r) for r in range(self.rows) for c in range(self.columns) if self.is_white(c, r))

    @cached_property
    def corners_px(self) -> Array:
        """The inner corners (N, 2) of the board in the frame, row by row: their numbers are their places here."""
        left, top = self.start_px
        u = left + self.side_px * np.arange(1, self.columns)
        v = top + self.side_px * np.arange(1, self.rows)
        return np.stack(np.meshgrid(u, v), axis=-1).reshape(-1, 2).astype(np.float64)

    @cached_property
    def cross_fields(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """The dark fields with a cross: the outermost two of the last row but one that have a neighbour on each side.

        The light often reaches a little past the table's edge; a field farther in the crosses are still on it.
        """
        row = self.rows - 2
        dark = [column for column in range(1, self.columns - 1) if not self.is_white(column, row)]
        return (dark[0], row), (dark[-1], row)

    @property
    def crosses_px(self) -> Array:
        """The middles (2, 2) of the two crosses, the one at the left of the frame first."""
        return np.array([self.corner_of(*field) for field in self.cross_fields], np.float64) + self.side_px / 2
