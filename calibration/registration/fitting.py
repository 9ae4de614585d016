"""The map of a cloth through its confirmed points: which terms the points determine, and least squares over them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from calibration.least_squares import NoConvergence, minimise
from calibration.registration.fit import PrintFit, depth_shares
from calibration.registration.lattice import Motif, PrintLattice, PrintPoint

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
_WEAK = {Term.STRETCH_ALONG: 0.01, Term.STRETCH_ACROSS: 0.01, Term.SKEW: 0.02, Term.BOW: 0.02}
"""What cloth of the trade does, as standard uncertainties: shares, skew and bow of the cloth width (common practice,
no source). Used only to tell a likely reading of the points from an unlikely one, never in a fit that is lit."""
_ROUGH_IN = 1 / 16
"""How far a rightly confirmed point may lie from any smooth map: placing, and cloth that is not quite even."""


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
    return (*AFFINE, Term.BOW) if _bow_is_determined(distinct, places, lattice) else AFFINE


def in_line(places: Array) -> bool:
    """Whether piece places (N, 2), N at least 2, all lie on one straight line."""
    sizes = np.linalg.svd(places - places.mean(axis=0), compute_uv=False)
    return bool(sizes[1] <= 1e-9 * sizes[0])


def along_design(lattice: PrintLattice, places: Array, middle_in: float, length_in: float) -> Array:
    """How shift, stretch, slope and bow move the print along the piece (N, 4) at piece places (N, 2).

    The stretch is counted about ``middle_in``, by lengths of ``length_in``.
    """
    along, across = places.T
    depth = depth_shares(across, lattice.width_in)
    return np.column_stack([np.ones_like(along), (along - middle_in) / length_in, across / lattice.width_in, depth])


def _terms_in_line(motifs: list[Motif], places: Array, lattice: PrintLattice) -> tuple[Term, ...]:
    along, across = np.ptp(places, axis=0)
    if along >= FAR_REPEATS * lattice.along_in * (1 - 1e-9) and along >= FAR_SLOPE * across:
        return (*RIGID, Term.STRETCH_ALONG)
    if len({column for _, column in motifs}) >= 3 and across >= along:
        return (*RIGID, Term.STRETCH_ACROSS, Term.BOW)
    return RIGID


def _bow_is_determined(motifs: list[Motif], places: Array, lattice: PrintLattice) -> bool:
    if len({column for _, column in motifs}) < 3:
        return False
    along = places[:, 0]
    design = along_design(lattice, places, float(along.mean()), max(float(np.ptp(along)), 1e-9))
    sizes = np.linalg.svd(design, compute_uv=False)
    if len(places) < 4 or sizes[-1] <= 1e-9 * sizes[0]:
        return False
    rows = {row for row, _ in motifs}
    if any(len({column for at, column in motifs if at == row}) >= 3 for row in rows):
        return True
    spread = np.linalg.inv(design.T @ design)[3, 3]
    return bool(PLACED_IN * np.sqrt(spread) <= BOW_KNOWN * lattice.width_in)


@dataclass(frozen=True)
class Pivot:
    """The middle of the points in piece inches; terms are fitted about it, so that they hardly disturb each other."""

    along_in: float
    across_in: float


def pivot_of(points: Sequence[PrintPoint], lattice: PrintLattice) -> Pivot:
    """The mean of the planned places of the points."""
    along, across = lattice.places([point.motif for point in points]).mean(axis=0).tolist()
    return Pivot(along, across)


def values_of(fit: PrintFit, pivot: Pivot) -> Array:
    """The seven numbers (7,) of a fit in the order of ``ALL_TERMS``: skew and bow as shares of the planned width."""
    matrix, width = fit.matrix, fit.lattice.width_in
    x, y = (matrix[:, :2] @ (pivot.along_in, pivot.across_in) + matrix[:, 2]).tolist()
    turn = math.radians(fit.turn_deg)
    shape = (fit.stretch_along, fit.stretch_across, fit.skew_in / width, fit.bow_in / width)
    return np.array([x, y, turn, *shape])


def fit_of(values: Array, pivot: Pivot, lattice: PrintLattice) -> PrintFit:
    """The fit with these seven numbers: the inverse of ``values_of``."""
    x, y, turn, along, across, skew, depth = values.tolist()
    cos, sin = math.cos(turn), math.sin(turn)
    s, c = along * pivot.along_in + skew * pivot.across_in, across * pivot.across_in
    width = lattice.width_in
    turn_deg = math.degrees(math.remainder(turn, math.tau))
    shift = (x - cos * s + sin * c, y - sin * s - cos * c)
    return PrintFit(lattice, shift, turn_deg, along, across, skew * width, depth * width)


def table_places(values: Array, pivot: Pivot, piece_in: Array, width_in: float) -> tuple[Array, Array]:
    """Table places (N, 2) of piece places (N, 2), and their derivatives (N, 2, 7) by the numbers."""
    x, y, turn, along, across, skew, depth = values.tolist()
    s, c = piece_in[:, 0] - pivot.along_in, piece_in[:, 1] - pivot.across_in
    bulge = width_in * depth_shares(piece_in[:, 1], width_in)
    u, v = along * s + skew * c + depth * bulge, across * c
    cos, sin = math.cos(turn), math.sin(turn)
    one, none = np.ones_like(s), np.zeros_like(s)
    table = np.column_stack([x + cos * u - sin * v, y + sin * u + cos * v])
    by_x = [one, none, -sin * u - cos * v, cos * s, -sin * c, cos * c, cos * bulge]
    by_y = [none, one, cos * u - sin * v, sin * s, cos * c, sin * c, sin * bulge]
    return table, np.stack([np.column_stack(by_x), np.column_stack(by_y)], axis=1)


def fit_terms(points: Sequence[PrintPoint], terms: Sequence[Term], carried: PrintFit) -> PrintFit:
    """The map through the points by least squares over ``terms``; the others are kept as ``carried`` has them.

    Raises ``NoConvergence`` when there is no settled answer, which takes points that no cloth could have.
    """
    return _solve(points, terms, carried, weak=False)[0]


def misfit(points: Sequence[PrintPoint], carried: PrintFit) -> tuple[float, PrintFit]:
    """How unlikely points are for any cloth of the trade lying about as ``carried``, and the likeliest map of them.

    Sum of squares, each in its standard uncertainty: points off a smooth map, and its stretch, skew and bow.
    Infinite when no map is found.
    """
    try:
        fit, cost = _solve(points, ALL_TERMS, carried, weak=True)
    except NoConvergence:
        return math.inf, carried
    return cost, fit


def _solve(
    points: Sequence[PrintPoint], terms: Sequence[Term], carried: PrintFit, weak: bool
) -> tuple[PrintFit, float]:
    lattice, pivot = carried.lattice, pivot_of(points, carried.lattice)
    piece = lattice.places([point.motif for point in points])
    table = np.array([point.table_in for point in points], float)
    start = values_of(carried, pivot)
    usual = start.copy()
    free = np.array([term in terms for term in ALL_TERMS])
    start[:2] += (table - table_places(start, pivot, piece, lattice.width_in)[0]).mean(axis=0)
    if Term.TURN in terms:
        start[2] += _turn_between(table_places(start, pivot, piece, lattice.width_in)[0], table)
    sizes = np.array([_WEAK.get(term, math.inf) for term in ALL_TERMS])[free]

    def model(chosen: Array) -> tuple[Array, Array]:
        values = start.copy()
        values[free] = chosen
        lies, slopes = table_places(values, pivot, piece, lattice.width_in)
        off, by = (lies - table).ravel(), slopes[:, :, free].reshape(-1, len(chosen))
        if not weak:
            return off, by
        pull = np.diag(1 / sizes)
        return np.concatenate([off / _ROUGH_IN, (chosen - usual[free]) / sizes]), np.vstack([by / _ROUGH_IN, pull])

    values = start.copy()
    values[free] = minimise(model, start[free])
    left = model(values[free])[0]
    return fit_of(values, pivot, lattice), float(left @ left)


def _turn_between(source: Array, target: Array) -> float:
    """The turn in radians that brings places (N, 2) nearest to others (N, 2), about their means."""
    a, b = source - source.mean(axis=0), target - target.mean(axis=0)
    return math.atan2(float((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()), float((a * b).sum()))
