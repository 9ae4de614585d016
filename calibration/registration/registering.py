"""Registration of a print: the map through its confirmed points, how well it is known, which points are outliers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.least_squares import NoConvergence
from calibration.problems import Code, PointsRefused, problem
from calibration.quantiles import CENTRAL_95
from calibration.registration.fit import PrintFit
from calibration.registration.fitting import (
    ALL_TERMS,
    PLACED_IN,
    Pivot,
    Term,
    fit_terms,
    in_line,
    pivot_of,
    table_places,
    terms_for,
    values_of,
)
from calibration.registration.lattice import PrintLattice, PrintPoint
from calibration.registration.outliers import Outlier, find_outlier

Array = NDArray[np.float64]

FARTHEST_IN = 1e5
"""A place on a table further away than this is a slip."""
MOST = 200
"""More points than this are no points of a person."""
MOST_OUTLIERS = 4
"""When more points than this are wrong, all are marked again."""
LEAST = 0.5
"""No cloth lies at less than this share of its planned size, nor at more than the inverse."""
APART_IN = 1 / 4
"""Two motif points are never marked nearer to each other than this."""
MIRRORED = 0.1
"""Points whose map turns the cloth over, but keeps sizes within this share, were counted or written the wrong way."""


@dataclass(frozen=True, eq=False)
class Surveyed:
    """How well the map is known where not a hand's points made it: the covariance (7, 7) of the numbers of
    ``ALL_TERMS`` about ``pivot``, and how far the cloth itself is off the map, inches each way."""

    pivot: Pivot
    covariance: Array
    uneven_in: float


@dataclass(frozen=True)
class Registration:
    """The map of the cloth as it lies. ``measured`` are the terms that the points determine; the others are kept.

    ``outliers`` are points that do not go with the others (numbers count from 1); those that are ``sure`` were left
    out of the fit, so that they do not drag it. ``surveyed``: a photograph made the map, of more places than are kept
    as points; its uncertainty then is not that of the points.
    """

    fit: PrintFit
    points: tuple[PrintPoint, ...]
    measured: tuple[Term, ...]
    outliers: tuple[Outlier, ...] = ()
    surveyed: Surveyed | None = None

    @property
    def _kept(self) -> list[int]:
        """Indices of the points the fit goes by."""
        aside = {outlier.number for outlier in self.outliers if outlier.sure}
        return [index for index in range(len(self.points)) if index + 1 not in aside]

    @property
    def used(self) -> tuple[PrintPoint, ...]:
        """The points the fit goes by."""
        return tuple(self.points[index] for index in self._kept)

    @property
    def off_in(self) -> Array:
        """How far (N, 2) each confirmed point lies from where the fit has its motif point, all points, inches."""
        expected = self.fit.to_table(self.fit.lattice.places([point.motif for point in self.points]))
        return np.array([point.table_in for point in self.points], float) - expected

    @property
    def rms_in(self) -> float:
        """Root mean square of the distances of all points, outliers included."""
        return float(np.sqrt((self.off_in**2).sum(axis=1).mean()))

    @property
    def worst_in(self) -> float:
        """The largest of these distances."""
        return float(np.hypot(*self.off_in.T).max())

    @cached_property
    def placed_in(self) -> float:
        """Standard uncertainty of a point, each way: as placed by a careful hand, or what the points show if worse."""
        kept = self.off_in[self._kept]
        freedom = kept.size - len(self.measured)
        if freedom < 1:
            return PLACED_IN
        return max(PLACED_IN, math.sqrt(float((kept**2).sum()) / freedom))

    def uncertainty(self, term: Term) -> float | None:
        """Standard uncertainty of a measured term (turn in radians, skew and bow as shares of the planned width).

        None for a term that was not measured. For points that lie N repeats apart along, that of the stretch falls as
        1/N.
        """
        if term not in self.measured:
            return None
        at = self.measured.index(term)
        return float(np.sqrt(self._covariance[at, at]))

    def along_error_in(self, piece_in: ArrayLike) -> Array:
        """How far (N,) the light may be off along the piece at places (N, 2), in 95 of 100 registrations.

        Reckons with the placing of the points only: what was not measured is taken to be as it was before.
        """
        piece = np.asarray(piece_in, float).reshape(-1, 2)
        turn = math.radians(self.fit.turn_deg)
        along = np.array([math.cos(turn), math.sin(turn)])
        slopes = np.einsum("i,nip->np", along, self._slopes(piece))
        squares = np.einsum("np,pq,nq->n", slopes, self._covariance, slopes)
        return CENTRAL_95 * np.sqrt(squares + (self.surveyed.uneven_in**2 if self.surveyed else 0.0))

    @cached_property
    def _covariance(self) -> Array:
        if self.surveyed is not None:
            chosen = [ALL_TERMS.index(term) for term in self.measured]
            return self.surveyed.covariance[np.ix_(chosen, chosen)]
        places = self.fit.lattice.places([point.motif for point in self.used])
        slopes = self._slopes(places).reshape(-1, len(self.measured))
        return np.asarray(self.placed_in**2 * np.linalg.inv(slopes.T @ slopes), np.float64)

    def _slopes(self, piece_in: Array) -> Array:
        pivot = self.surveyed.pivot if self.surveyed else pivot_of(self.used, self.fit.lattice)
        _, slopes = table_places(values_of(self.fit, pivot), pivot, piece_in, self.fit.lattice.width_in)
        return slopes[:, :, [ALL_TERMS.index(term) for term in self.measured]]


def register(points: Sequence[PrintPoint], carried: PrintFit) -> Registration:
    """Fit the light to the print: the map through one or more confirmed points.

    ``carried`` is the light as it was, ``PrintFit.plain`` at first, after a pull the fit before it moved with the
    cloth: what the points cannot tell (see ``terms_for``) stays as it has it. A point that does not go with two or more
    others is named in ``outliers`` and, where it is clear which, left out of the fit.
    Raises PointsRefused for no points, for places that are no numbers and for rows or columns counted the wrong way.
    """
    taken = tuple(points)
    _check(taken)
    _check_hand(taken, carried.lattice)
    found: list[Outlier] = []
    kept = list(enumerate(taken, 1))
    while len(found) < min(MOST_OUTLIERS, max(1, len(taken) // 4)):
        outlier = find_outlier(kept, carried)
        if outlier is None:
            break
        found.append(outlier)
        if not outlier.sure:
            break
        kept = [(number, point) for number, point in kept if number != outlier.number]
    used = [point for _, point in kept]
    terms = terms_for([point.motif for point in used], carried.lattice)
    try:
        fit = fit_terms(used, terms, carried)
    except NoConvergence:
        raise _no_such_cloth() from None
    if not all(LEAST <= stretch <= 1 / LEAST for stretch in (fit.stretch_along, fit.stretch_across)):
        raise _no_such_cloth()
    return Registration(fit, taken, terms, tuple(found))


def _check(points: tuple[PrintPoint, ...]) -> None:
    if not points:
        raise PointsRefused(problem(("points",), Code.NO_POINT))
    if len(points) > MOST:
        raise PointsRefused(problem(("points",), Code.TOO_MANY_POINTS, count=len(points), most=MOST))
    for number, point in enumerate(points, 1):
        if not all(math.isfinite(value) and abs(value) <= FARTHEST_IN for value in point.table_in):
            raise PointsRefused(problem(("points", number - 1), Code.POINT_IS_NO_PLACE, number=number))
    for (one, first), (other, second) in combinations(enumerate(points, 1), 2):
        if first.motif != second.motif and math.dist(first.table_in, second.table_in) < APART_IN:
            raise PointsRefused(problem(("points",), Code.TWO_MOTIFS_IN_ONE_PLACE, one=one, other=other))


def _check_hand(points: tuple[PrintPoint, ...], lattice: PrintLattice) -> None:
    """Refuse points that lie as on a mirrored cloth of about the right size, which no single wrong point explains."""
    places = lattice.places([point.motif for point in points])
    if len({point.motif for point in points}) < 3 or in_line(places):
        return
    table = np.array([point.table_in for point in points], float)
    design = np.column_stack([places - places.mean(axis=0), np.ones(len(places))])
    plane = np.linalg.lstsq(design, table, rcond=None)[0][:2]
    sizes = np.linalg.svd(plane, compute_uv=False)
    if np.linalg.det(plane) < 0 and (np.abs(sizes - 1) <= MIRRORED).all():
        raise PointsRefused(problem(("points",), Code.MIRRORED_POINTS))


def _no_such_cloth() -> PointsRefused:
    return PointsRefused(problem(("points",), Code.NO_SUCH_CLOTH))
