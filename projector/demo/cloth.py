"""A virtual cloth on the table: where its print really lies, and what colour it has anywhere."""

from __future__ import annotations

import math
from dataclasses import field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from jobs.model.records import dataclass
from projector.demo.brightness import Linear, linear_of, linear_of_hex
from projector.prints.face import Face

Array = NDArray[np.float64]

SELVEDGE_COLOUR, PLAIN_COLOUR = "#aeb4b8", "#8d8f92"


@dataclass(frozen=True)
class AsItLies:
    """How a cloth really is, and how it lies: shares of what is planned, of the cloth width, degrees, inches.

    The defaults are a cloth 1 % long, skewed and bowed, laid a little aslant and off by hand.
    """

    stretch_along: float = 1.01
    skew: float = 0.014
    bow: float = 0.008
    turn_deg: float = 0.3
    shift: tuple[float, float] = (0.35, 0.2)


@dataclass(frozen=True)
class LaidCloth:
    """Printed cloth lying on the table. Piece inches are as planned; on the table they lie stretched.

    ``stretch_along`` and ``stretch_across`` are table inches per piece inch: cloth laid tight or slack, or a repeat
    that is not what the ticket says. ``shift`` is where the near selvedge at piece position ``at_left`` lies;
    ``turn_deg`` turns the cloth about it, counter-clockwise. ``skew`` is how far the print runs along from the near to
    the far selvedge, ``bow`` how far it bulges along in the middle, both in piece inches. Columns are as many whole
    ones as fit the printed width, centred, unless ``column`` says where the first one lies; each lies ``drop`` of a
    repeat further along than the one before it. ``face`` is what it wears; plain grey when None. ``selvedge`` is the
    unprinted strip at both sides, or at the near one where ``far_selvedge`` tells another for the far one.
    """

    length: float
    width: float
    along: float
    across: float
    selvedge: float = 0.5
    first_row: float = 0.0
    at_left: float = 0.0
    shift: tuple[float, float] = (0.0, 0.0)
    turn_deg: float = 0.0
    skew: float = 0.0
    bow: float = 0.0
    stretch_along: float = 1.0
    stretch_across: float = 1.0
    column: float | None = None
    drop: float = 0.0
    face: Face | None = field(default=None, compare=False)
    far_selvedge: float | None = None

    @property
    def first_column(self) -> float:
        """Distance of the first whole column from the near selvedge."""
        if self.column is not None:
            return self.column
        near, far = self.selvedge, self._printed_to
        count = max(1, int((far - near) / self.across + 1e-9))
        return (near + far) / 2 - (count - 1) * self.across / 2

    @property
    def _printed_to(self) -> float:
        """Where the print ends, from the near selvedge edge."""
        return self.width - (self.selvedge if self.far_selvedge is None else self.far_selvedge)

    def slide(self, across_in: ArrayLike) -> Array:
        """How far along the print is off at distances (N,) from the near selvedge."""
        c = np.asarray(across_in, float) / self.width
        return self.skew * c + 4 * self.bow * c * (1 - c)

    def to_table(self, piece_in: ArrayLike) -> Array:
        """Table places (N, 2) of piece positions (N, 2): along, across."""
        along, across = np.asarray(piece_in, float).T
        cos, sin = math.cos(math.radians(self.turn_deg)), math.sin(math.radians(self.turn_deg))
        s, c = (along - self.at_left) * self.stretch_along, across * self.stretch_across
        return np.column_stack([self.shift[0] + cos * s - sin * c, self.shift[1] + sin * s + cos * c])

    def to_piece(self, table_in: ArrayLike) -> Array:
        """Piece positions (N, 2) of table places (N, 2)."""
        x, y = (np.asarray(table_in, float) - self.shift).T
        cos, sin = math.cos(math.radians(self.turn_deg)), math.sin(math.radians(self.turn_deg))
        along, across = (cos * x + sin * y) / self.stretch_along, (cos * y - sin * x) / self.stretch_across
        return np.column_stack([self.at_left + along, across])

    def to_print(self, table_in: ArrayLike) -> Array:
        """Where on the print (N, 2) table places lie: piece positions freed from skew and bow.

        A row is all at one position along, whatever its shape on the table: what must agree at a seam.
        """
        piece = self.to_piece(table_in)
        return np.column_stack([piece[:, 0] - self.slide(piece[:, 1]), piece[:, 1]])

    def motif_points(self, rows_and_columns: ArrayLike) -> Array:
        """Table places (N, 2) of the motif points of these rows and columns (N, 2), as printed."""
        rows, columns = np.asarray(rows_and_columns, float).T
        across = self.first_column + columns * self.across
        along = self.first_row + (rows + columns * self.drop) * self.along
        return self.to_table(np.column_stack([along + self.slide(across), across]))

    def colour_at(self, piece_in: Array) -> tuple[Linear, NDArray[np.bool_]]:
        """Linear reflectance (N, 3) at piece positions (N, 2), and which of them lie on the cloth (N,)."""
        along, across = piece_in.T
        on_cloth = (along >= 0) & (along <= self.length) & (across >= 0) & (across <= self.width)
        if self.face is None:
            return self._with_selvedges(np.tile(linear_of_hex(PLAIN_COLOUR), (len(piece_in), 1)), across), on_cloth
        line, column = self.face.pixels_at(along - self.first_row - self.slide(across), across)
        return self._with_selvedges(linear_of(self.face.pixels[line, column]), across), on_cloth

    def _with_selvedges(self, colour: Linear, across: Array) -> Linear:
        colour[(across < self.selvedge) | (across > self._printed_to)] = linear_of_hex(SELVEDGE_COLOUR)
        return colour
