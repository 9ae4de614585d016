"""Cloth of a known lie, and motif points marked on it, for tests of laying."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from calibration.registration.fit import PrintFit
from calibration.registration.lattice import Motif, PrintLattice, PrintPoint

LATTICE = PrintLattice.centred(12.375, 13.25, 54, 0.5, first_row_in=4.75)
PLAIN = PrintFit.plain(LATTICE, 2.0)
TRUE = PrintFit(LATTICE, (-1.4, 0.3), 1.1, 1.011, 0.994, 0.7, -0.5)
"""A cloth somewhat long, narrow, turned, skewed and bowed."""
ROW_AND_ONE: tuple[Motif, ...] = ((1, 0), (1, 2), (1, 3), (7, 1))
"""Three on a row and one far along."""


def marked(fit: PrintFit, motifs: Iterable[Motif], off: NDArray[np.float64] | float = 0.0) -> list[PrintPoint]:
    """These motif points where the cloth has them, each moved by ``off`` (N, 2) inches."""
    motifs = list(motifs)
    places = (fit.to_table(fit.lattice.places(motifs)) + off).tolist()
    return [PrintPoint(row, column, (x, y)) for (row, column), (x, y) in zip(motifs, places, strict=True)]


def numbers(fit: PrintFit) -> list[float]:
    """All seven numbers of a fit."""
    shape = [fit.turn_deg, fit.stretch_along, fit.stretch_across, fit.skew_in, fit.bow_in]
    return [*fit.shift, *shape]
