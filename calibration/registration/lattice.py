"""The lattice of the print as planned: where each motif point lies on the piece, by row and column."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Motif = tuple[int, int]
"""Row and column of a motif point; rows count along the piece, columns across it, both from 0."""


@dataclass(frozen=True)
class PrintPoint:
    """A motif point as a person confirmed it: its row and column, and where it lies on the table, inches."""

    row: int
    column: int
    table_in: tuple[float, float]

    @property
    def motif(self) -> Motif:
        return (self.row, self.column)


@dataclass(frozen=True)
class PrintLattice:
    """Motif points of the print in piece inches, as planned (the ticket's repeat, whatever the cloth really has).

    The point of row r and column j lies ``first_row_in + (r + drop j) along_in`` along and ``first_column_in + j
    across_in`` across. ``width_in`` is the cloth width, selvedge edge to selvedge edge.
    Raises ValueError for a repeat or a width that is not above zero.
    """

    along_in: float
    across_in: float
    width_in: float
    first_column_in: float
    first_row_in: float = 0.0
    drop: float = 0.0

    def __post_init__(self) -> None:
        if not all(math.isfinite(size) and size > 0 for size in (self.along_in, self.across_in, self.width_in)):
            raise ValueError("repeats and the cloth width are lengths above zero")
        if not all(map(math.isfinite, (self.first_column_in, self.first_row_in, self.drop))):
            raise ValueError("places of a lattice are finite numbers")

    @classmethod
    def centred(
        cls,
        along_in: float,
        across_in: float,
        width_in: float,
        selvedge_in: float = 0.0,
        first_row_in: float = 0.0,
        drop: float = 0.0,
    ) -> PrintLattice:
        """The lattice whose whole columns, as many as fit the printed width, lie centred between the selvedges."""
        count = max(1, math.floor((width_in - 2 * selvedge_in) / across_in + 1e-9))
        first = width_in / 2 - (count - 1) * across_in / 2
        return cls(along_in, across_in, width_in, first, first_row_in, drop)

    @property
    def columns(self) -> int:
        """How many columns there are from column 0 to the one that lies as far from the far selvedge."""
        return max(1, math.floor((self.width_in - 2 * self.first_column_in) / self.across_in + 1e-9) + 1)

    def strip(self, near_in: float, far_in: float) -> PrintLattice:
        """The lattice of a strip of the cloth between two places across it, counted from the strip's own near side."""
        first = self.first_column_in - near_in
        columns = -math.floor(first / self.across_in + 1e-9)
        first_row = self.first_row_in + columns * self.drop * self.along_in
        return replace(
            self,
            width_in=far_in - near_in,
            first_column_in=first + columns * self.across_in,
            first_row_in=first_row,
        )

    def places(self, motifs: ArrayLike) -> Array:
        """Piece inches (N, 2) of motif points given as rows and columns (N, 2)."""
        rows, columns = np.asarray(motifs, float).reshape(-1, 2).T
        along = self.first_row_in + (rows + self.drop * columns) * self.along_in
        return np.column_stack([along, self.first_column_in + columns * self.across_in])

    def edges(self, along_from_in: float, along_to_in: float, steps: int) -> Array:
        """Piece places (2 steps + 2, 2) on both edges of a stretch of the piece, from selvedge to selvedge."""
        across = np.linspace(0, self.width_in, steps + 1)
        ends = [np.column_stack([np.full_like(across, at), across]) for at in (along_from_in, along_to_in)]
        return np.vstack(ends)

    def nearest(self, piece_in: ArrayLike) -> Motif:
        """Row and column of the motif point nearest to a piece place (2,); with a drop the neighbours are tried."""
        along, across = np.asarray(piece_in, float)
        column = round((across - self.first_column_in) / self.across_in)
        tried = []
        for near in (column - 1, column, column + 1):
            row = round((along - self.first_row_in) / self.along_in - self.drop * near)
            off = self.places([(row, near)])[0] - (along, across)
            tried.append((float(off @ off), (row, near)))
        return min(tried)[1]

    def rows_between(self, along_from_in: float, along_to_in: float, column: int = 0) -> tuple[int, ...]:
        """Rows whose motif point of this column lies from ``along_from_in`` to ``along_to_in``, ends included."""
        low = (along_from_in - self.first_row_in) / self.along_in - self.drop * column
        high = (along_to_in - self.first_row_in) / self.along_in - self.drop * column
        return tuple(range(math.ceil(low - 1e-9), math.floor(high + 1e-9) + 1))
