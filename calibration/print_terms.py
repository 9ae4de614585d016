"""Which terms of a cloth's map its confirmed points can tell."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from calibration import bow
from calibration.lattice import Motif, PrintLattice

Array = NDArray[np.float64]


class Term(StrEnum):
    """One number of the map; a shift is two of them."""

    SHIFT_X = "shift along the table"
    SHIFT_Y = "shift across the table"
    TURN = "turn"
    STRETCH_ALONG = "stretch along"
    STRETCH_ACROSS = "stretch across"
    SKEW = "skew"
    BOW = "bow"


ALL_TERMS = tuple(Term)
SHIFT = (Term.SHIFT_X, Term.SHIFT_Y)
RIGID = (*SHIFT, Term.TURN)
AFFINE = (*RIGID, Term.STRETCH_ALONG, Term.STRETCH_ACROSS, Term.SKEW)

FAR_REPEATS = 3
"""Points are far apart along from this many repeats on: nearer ones tell more of the hand than of the cloth."""
FAR_SLOPE = 4
"""... and this many times further along than across: otherwise skew would be read as stretch."""
PLACED_IN = 1 / 32
"""Standard uncertainty of a confirmed point, each way (common practice, no source)."""
BOW_KNOWN = 0.005
"""Bow is looked for off a row when it would be known to this share of the cloth width."""


def terms_for(motifs: Sequence[Motif], lattice: PrintLattice) -> tuple[Term, ...]:
    """The terms that points at these rows and columns determine; the others stay as they were.

    One point: shift. Two: shift and turn, and the stretch along when they lie ``FAR_REPEATS`` or more apart along and
    ``FAR_SLOPE`` times further along than across. Three or more in a line: likewise; on a row with three columns also
    the stretch across and the bow. Three or more not in a line: everything but the bow, and the bow too when three
    columns are marked on one row, or wherever the points would tell it well.
    """
    distinct = sorted(set(motifs))
    if len(distinct) < 2:
        return SHIFT
    places = lattice.places(distinct)
    if in_line(places):
        return _terms_in_line(distinct, places, lattice)
    return (*AFFINE, Term.BOW) if _bow_is_told(distinct, places, lattice) else AFFINE


def in_line(places: Array) -> bool:
    """Whether piece places (N, 2), N at least 2, all lie on one straight line."""
    sizes = np.linalg.svd(places - places.mean(axis=0), compute_uv=False)
    return bool(sizes[1] <= 1e-9 * sizes[0])


def _terms_in_line(motifs: list[Motif], places: Array, lattice: PrintLattice) -> tuple[Term, ...]:
    along, across = np.ptp(places, axis=0)
    if along >= FAR_REPEATS * lattice.along_in * (1 - 1e-9) and along >= FAR_SLOPE * across:
        return (*RIGID, Term.STRETCH_ALONG)
    if len({column for _, column in motifs}) >= 3 and across >= along:
        return (*RIGID, Term.STRETCH_ACROSS, Term.BOW)
    return RIGID


def _bow_is_told(motifs: list[Motif], places: Array, lattice: PrintLattice) -> bool:
    if len({column for _, column in motifs}) < 3:
        return False
    along, across = places.T
    design = np.column_stack(
        [
            np.ones_like(along),
            (along - along.mean()) / max(float(np.ptp(along)), 1e-9),
            across / lattice.width_in,
            bow.depth_shares(across, lattice.width_in),
        ]
    )
    sizes = np.linalg.svd(design, compute_uv=False)
    if len(places) < 4 or sizes[-1] <= 1e-9 * sizes[0]:
        return False
    rows = {row for row, _ in motifs}
    if any(len({column for at, column in motifs if at == row}) >= 3 for row in rows):
        return True
    spread = np.linalg.inv(design.T @ design)[3, 3]
    return bool(PLACED_IN * np.sqrt(spread) <= BOW_KNOWN * lattice.width_in)
