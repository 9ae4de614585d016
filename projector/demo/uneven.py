"""A virtual cloth that does not lie quite even: small waves that no shift, turn, stretch, skew and bow describe."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from jobs.model.records import dataclass
from projector.demo.brightness import Linear
from projector.demo.cloth import LaidCloth

Array = NDArray[np.float64]

ROUNDS = 6


@dataclass(frozen=True)
class Wave:
    """The cloth pushed to and fro by ``push_in`` (x, y) over a length of ``long_in``, running ``towards_deg``."""

    push_in: tuple[float, float]
    long_in: float
    towards_deg: float
    begins: float


@dataclass(frozen=True)
class Uneven:
    """``cloth`` with waves in the table's plane: what would lie at a place lies ``pushed`` from it."""

    cloth: LaidCloth
    waves: tuple[Wave, ...]

    def pushed(self, table_in: Array) -> Array:
        """How far (N, 2) what would lie at places (N, 2) of the table is pushed."""
        total = np.zeros_like(table_in, dtype=np.float64)
        for wave in self.waves:
            side = math.radians(wave.towards_deg)
            phase = (table_in @ (math.cos(side), math.sin(side))) * 2 * math.pi / wave.long_in + wave.begins
            total += np.sin(phase)[:, None] * np.array(wave.push_in)
        return total

    def _back(self, table_in: ArrayLike) -> Array:
        """Where (N, 2) what lies at places (N, 2) would lie if the cloth were even."""
        places = np.asarray(table_in, float)
        even = places
        for _ in range(ROUNDS):
            even = places - self.pushed(even)
        return even

    def to_piece(self, table_in: Array) -> Array:
        """Piece positions (N, 2) of table places (N, 2)."""
        return self.cloth.to_piece(self._back(table_in))

    def to_print(self, table_in: ArrayLike) -> Array:
        """Where on the print (N, 2) table places lie, see ``LaidCloth.to_print``."""
        return self.cloth.to_print(self._back(table_in))

    def colour_at(self, piece_in: Array) -> tuple[Linear, NDArray[np.bool_]]:
        """See ``LaidCloth.colour_at``."""
        return self.cloth.colour_at(piece_in)
