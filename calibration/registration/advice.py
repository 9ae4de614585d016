"""Which motif points to mark next, so that the light errs least along both edges of the coming cut."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from calibration.registration.fitting import PLACED_IN, along_design
from calibration.registration.lattice import Motif, PrintLattice

Array = NDArray[np.float64]
IsLit = Callable[[Motif], bool]

ENOUGH = 4
"""Points that tell shift, turn, stretch, skew and bow when they are well chosen."""
_LINES = 4
"""At most so many rows, and so many columns, are tried, spread evenly over what there is."""
_STEPS = 16

_UNKNOWN = np.array([100.0, 0.02, 0.04, 0.02])
"""What is not known before, as standard uncertainties: shift in inches, stretch, turn with skew, bow by cloth width."""


def where_next(
    lattice: PrintLattice,
    along_from_in: float,
    along_to_in: float,
    confirmed: Sequence[Motif] = (),
    is_lit: IsLit | None = None,
) -> Motif | None:
    """The row and column to mark next; None when no motif point is left to mark.

    Until there are ``ENOUGH`` points the remaining ones are chosen together, afterwards one by one: always those that
    make the largest error along the piece, over both edges of the cut from ``along_from_in`` to ``along_to_in`` and the
    whole cloth width, the smallest (G-optimal; see A. C. Atkinson and A. N. Donev, *Optimum Experimental Designs*,
    1992, from memory). ``is_lit`` tells which motif points the light reaches.
    """
    tried = _tried(lattice, along_from_in, along_to_in, confirmed, is_lit)
    if not tried:
        return None
    more = min(len(tried), max(1, ENOUGH - len(set(confirmed))))
    sets = np.array(list(combinations(range(len(tried)), more)))
    middle, length = (along_from_in + along_to_in) / 2, max(along_to_in - along_from_in, 1e-9)

    def design(places: Array) -> Array:
        return along_design(lattice, places, middle, length)

    designs = design(lattice.places(tried))
    known = np.diag(_scales(lattice, along_to_in - along_from_in) ** -2)
    if confirmed:
        done = design(lattice.places(list(confirmed)))
        known = known + done.T @ done / PLACED_IN**2
    chosen = designs[sets]
    normal = known + np.einsum("kni,knj->kij", chosen, chosen) / PLACED_IN**2
    at = design(lattice.edges(along_from_in, along_to_in, _STEPS))
    errors = np.einsum("mi,kij,mj->km", at, np.linalg.inv(normal), at).max(axis=1)
    best = sets[int(np.argmin(np.round(errors, 12)))]
    places = lattice.places([tried[index] for index in best])
    return tried[best[int(np.argmin(places[:, 0] + 1e-3 * places[:, 1]))]]


def _tried(
    lattice: PrintLattice, start: float, end: float, confirmed: Sequence[Motif], is_lit: IsLit | None
) -> list[Motif]:
    taken = set(confirmed)
    found = []
    for column in _spread(range(lattice.columns)):
        rows = [row for row in lattice.rows_between(start, end, column) if is_lit is None or is_lit((row, column))]
        found += [(row, column) for row in _spread(rows) if (row, column) not in taken]
    return found


def _spread(numbers: Sequence[int]) -> list[int]:
    """At most ``_LINES`` of the numbers, the first and the last among them."""
    if len(numbers) <= _LINES:
        return list(numbers)
    return [numbers[round(step * (len(numbers) - 1) / (_LINES - 1))] for step in range(_LINES)]


def _scales(lattice: PrintLattice, length: float) -> Array:
    return _UNKNOWN * (1.0, max(length, 1e-9), lattice.width_in, lattice.width_in)
