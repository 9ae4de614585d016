"""Where the print really lies: piece inches, as planned, to table inches and back.

Bow and skew are as ASTM D3882 (*Standard Test Method for Bow and Skew in Woven and Knitted Fabrics*) measures them. A
straightedge joins the two points where one row meets the selvedges: bow is the greatest depth of the row from it, skew
the distance along the selvedge between where the row meets the far selvedge and where a line square to the selvedge
through its near end does. Both in percent of the cloth width. The method sets no limit: buyer and supplier agree on it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.registration.lattice import Motif, PrintLattice

Array = NDArray[np.float64]


def depth_shares(across_in: ArrayLike, width_in: float) -> Array:
    """Depth (N,) of a bowed row at distances (N,) from the near selvedge, as a share of the greatest.

    A parabola, ``4 u (1 - u)`` with u the share of the width: 0 at both selvedges, 1 at mid-width. A real bow is not
    exactly so; three points on a row cannot tell more.
    """
    share = np.asarray(across_in, float) / width_in
    return 4 * share * (1 - share)


@dataclass(frozen=True)
class PrintFit:
    """The map of a cloth as it lies. Piece place (s, c) lies on the table at

        shift + turned by turn of (stretch_along s + skew_in c / width + bow_in depth_share(c), stretch_across c).

    ``shift`` is the table place of piece (0, 0); ``turn_deg`` the direction of the selvedge, counter-clockwise from +x;
    the stretches are what lies there per planned inch; ``skew_in`` how much further along (table inches) a row meets
    the far selvedge than the near one, ``bow_in`` how far it bulges along at mid-width.
    """

    lattice: PrintLattice
    shift: tuple[float, float] = (0.0, 0.0)
    turn_deg: float = 0.0
    stretch_along: float = 1.0
    stretch_across: float = 1.0
    skew_in: float = 0.0
    bow_in: float = 0.0

    @classmethod
    def plain(cls, lattice: PrintLattice, at_left_in: float = 0.0) -> PrintFit:
        """Cloth exactly as planned: piece position ``at_left_in`` at x = 0, the near selvedge along y = 0."""
        return cls(lattice, (-at_left_in, 0.0))

    @property
    def width_in(self) -> float:
        """Cloth width as it lies, square to the selvedge."""
        return self.lattice.width_in * self.stretch_across

    @property
    def skew_pct(self) -> float:
        """Skew as ASTM D3882 has it, positive when the far selvedge end lies further along."""
        return 100 * self.skew_in / self.width_in

    @property
    def bow_pct(self) -> float:
        """Bow as ASTM D3882 has it, positive when the middle of a row lies further along."""
        return 100 * self.bow_in / self.width_in

    @property
    def matrix(self) -> Array:
        """The map without its bow, (2, 3): piece inch (s, c, 1) to table inch. Exact at both selvedges."""
        (cos, sin), (x, y) = self._direction, self.shift
        slope = self.skew_in / self.lattice.width_in
        along, across = self.stretch_along, self.stretch_across
        return np.array(
            [
                [cos * along, cos * slope - sin * across, x],
                [sin * along, sin * slope + cos * across, y],
            ]
        )

    def to_table(self, piece_in: ArrayLike) -> Array:
        """Table places (N, 2) of piece places (N, 2), bow included."""
        piece = np.asarray(piece_in, float).reshape(-1, 2)
        matrix = self.matrix
        depth = self.bow_in * depth_shares(piece[:, 1], self.lattice.width_in)
        return piece @ matrix[:, :2].T + matrix[:, 2] + depth[:, None] * np.array(self._direction)

    def to_piece(self, table_in: ArrayLike) -> Array:
        """Piece places (N, 2) of table places (N, 2): the exact inverse of ``to_table``."""
        x, y = (np.asarray(table_in, float).reshape(-1, 2) - self.shift).T
        cos, sin = self._direction
        across = (cos * y - sin * x) / self.stretch_across
        slide = self.skew_in * across / self.lattice.width_in
        slide = slide + self.bow_in * depth_shares(across, self.lattice.width_in)
        return np.column_stack([(cos * x + sin * y - slide) / self.stretch_along, across])

    def pulled(self, by_in: float) -> PrintFit:
        """The same cloth pulled along its selvedge, until what lay ``by_in`` piece inches further on lies here."""
        x, y = (self.matrix[:, 0] * by_in).tolist()
        return replace(self, shift=(self.shift[0] - x, self.shift[1] - y))

    def expected(self, motif: Motif) -> tuple[float, float]:
        """Where on the table the motif point of this row and column is expected."""
        x, y = self.to_table(self.lattice.places([motif]))[0].tolist()
        return x, y

    def nearest_motif(self, table_in: tuple[float, float]) -> Motif:
        """The row and column to propose for a point marked at a table place: the nearest one under this fit."""
        return self.lattice.nearest(self.to_piece([table_in])[0])

    @property
    def _direction(self) -> tuple[float, float]:
        turn = math.radians(self.turn_deg)
        return math.cos(turn), math.sin(turn)
