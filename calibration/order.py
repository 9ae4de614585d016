"""Whether pixels come in the order of the marks on the table, and which order would be right."""

from __future__ import annotations

from itertools import permutations

import numpy as np
from numpy.typing import NDArray

from calibration.shapes import turns, wide_triples

Array = NDArray[np.float64]

TURN_KNOWN = (0.01, 0.05)
"""Of four marks, of more: three tell the order of marks when their height is this share of the extent of all.
More marks may be close together, where honest placing errors turn flat triples over; their residuals tell of slips."""


def telling_triples(table: Array) -> NDArray[np.intp]:
    """Triples (T, 3) of places (N, 2) that stand far enough from a line to tell which way they turn."""
    return wide_triples(table, TURN_KNOWN[len(table) > 4])


def folded(table: Array, pixels: Array, triples: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Which triples (T,) turn the other way than most: a map that does not fold turns all alike."""
    alike = turns(table, triples) * turns(pixels, triples) > 0
    return alike != (2 * alike.sum() >= len(alike))


def right_order(table: Array, pixels: Array) -> tuple[int, ...]:
    """The order of four ``pixels`` (indices from 0) that agrees with ``table``, changing fewest; empty when none does.

    Of equal ones that rig is taken which is not mirrored (pixels count down, inches away from the person). Of more
    marks the order is a slip among others, see ``calibration.judging``.
    """
    count = len(table)
    triples = telling_triples(table)
    orders: list[tuple[int, ...]] = list(permutations(range(count))) if count == 4 else []
    best: tuple[tuple[int, bool], tuple[int, ...]] | None = None
    for order in orders:
        moved = pixels[list(order)]
        if not folded(table, moved, triples).any():
            mirrored = bool(turns(table, triples)[0] * turns(moved, triples)[0] > 0)
            rank = (sum(index != place for place, index in enumerate(order)), mirrored)
            best = min(best or (rank, order), (rank, order))
    return best[1] if best else ()
