"""Motif points being marked at one stop, as one frozen value: the cross in hand, the points, the fit so far."""

from __future__ import annotations

from dataclasses import dataclass, replace

from calibration.problems import PointsRefused, Problem
from calibration.registration.advice import ENOUGH, where_next
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import Motif, PrintPoint
from calibration.registration.registering import Registration, register
from jobs.model.plan import Stop
from projector.scene.marks import Point

STEPS_PER_INCH = 64


@dataclass(frozen=True)
class Marking:
    """``carried`` is the light as it was, ``plain`` the cloth as planned; ``lit`` the stretch of the piece in light.

    ``known`` tells that the cloth was laid before, so that one point is enough to find it again. ``offset_64ths`` is
    how far the cross was moved from where ``aimed`` is expected, ``motif`` the row and column given by hand (None:
    the nearest). ``to_light`` tells that the cloth is moved to the light instead of the light to the cloth. ``area``
    is the convex part of the table on which a point may be proposed, corners counter-clockwise or clockwise; empty:
    all of it.
    """

    carried: PrintFit
    plain: PrintFit
    lit: tuple[float, float]
    cut: tuple[float, float]
    aimed: Motif
    start: Point
    known: bool = False
    points: tuple[PrintPoint, ...] = ()
    offset_64ths: tuple[int, int] = (0, 0)
    motif: Motif | None = None
    refused: Problem | None = None
    to_light: bool = False
    area: tuple[Point, ...] = ()

    @property
    def at(self) -> Point:
        """Where the cross is lit, table inches."""
        return tuple(s + o / STEPS_PER_INCH for s, o in zip(self.start, self.offset_64ths, strict=True))  # type: ignore[return-value]

    @property
    def laying(self) -> Registration | None:
        """What the points say so far."""
        return register(self.points, self.carried) if self.points else None

    @property
    def fit(self) -> PrintFit:
        """The light as it follows the points."""
        laying = self.laying
        return laying.fit if laying else self.carried

    @property
    def proposed(self) -> Motif:
        """Row and column that confirming would give the cross."""
        return self.motif or self.fit.nearest_motif(self.at)

    @property
    def enough(self) -> bool:
        """Whether as many points are marked as are usually needed."""
        return len(self.points) >= (1 if self.known else ENOUGH)

    def nudged(self, right_64ths: int, away_64ths: int) -> Marking:
        """The cross moved on."""
        right, away = self.offset_64ths
        return replace(self, offset_64ths=(right + right_64ths, away + away_64ths), refused=None)

    def put(self, at: Point) -> Marking:
        """The cross put to a place on the table, to the nearest 64th."""
        right, away = (round((to - s) * STEPS_PER_INCH) for to, s in zip(at, self.start, strict=True))
        return replace(self, offset_64ths=(right, away), refused=None)

    def corrected(self, rows: int, columns: int) -> Marking:
        """Row and column of the cross counted otherwise."""
        row, column = self.proposed
        return replace(self, motif=(row + rows, column + columns), refused=None)

    def confirmed(self) -> Marking:
        """The cross lies on its motif: one more point, and the cross goes where the next one helps most.

        Where no cloth could have the points, the point is not taken and ``refused`` says why.
        """
        row, column = self.proposed
        kept = tuple(point for point in self.points if point.motif != (row, column))
        more = replace(self, points=(*kept, PrintPoint(row, column, self.at)))
        try:
            register(more.points, self.carried)
        except PointsRefused as refused:
            return replace(self, refused=refused.problems[0])
        return more.aiming()

    def taken_back(self) -> Marking:
        """Without the last point; the cross stands where that was marked."""
        if not self.points:
            return self
        last = self.points[-1]
        return replace(
            self, points=self.points[:-1], aimed=last.motif, start=last.table_in, offset_64ths=(0, 0), motif=None
        )

    def aiming(self) -> Marking:
        """The cross where the motif point that helps most is expected; where it was when none is left."""
        done = [point.motif for point in self.points]
        motif = where_next(self.fit.lattice, *self.span, done, self._is_seen)
        aimed = motif or self.aimed
        return replace(self, aimed=aimed, start=self.fit.expected(aimed), offset_64ths=(0, 0), motif=None, refused=None)

    def _is_seen(self, motif: Motif) -> bool:
        """Whether a motif point lies in the lit stretch, and on the table as far as is known."""
        along = float(self.fit.lattice.places([motif])[0][0])
        return self.lit[0] <= along <= self.lit[1] and is_inside(self.fit.expected(motif), self.area)

    @property
    def span(self) -> tuple[float, float]:
        """The part of the cut that is lit, in piece inches; what is lit where that is none."""
        low, high = max(self.lit[0], self.cut[0]), min(self.lit[1], self.cut[1])
        return (low, high) if low < high else self.lit


def is_inside(place: Point, area: tuple[Point, ...]) -> bool:
    """Whether a place lies in a convex area, its corners in either order; an empty one is boundless."""
    x, y = place
    edges = zip(area, (*area[1:], *area[:1]), strict=True)
    sides = [(x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) for (x0, y0), (x1, y1) in edges]
    return all(side >= 0 for side in sides) or all(side <= 0 for side in sides)


def begin_marking(carried: PrintFit, stop: Stop, known: bool, area: tuple[Point, ...] = ()) -> Marking:
    """The first cross at a stop; ``carried`` is the light as it lies now."""
    lit = (float(stop.lit_from), float(stop.lit_to))
    cut = (float(stop.placement.start), float(stop.placement.end))
    plain = PrintFit.plain(carried.lattice, float(stop.cloth_at_left))
    middle = ((lit[0] + lit[1]) / 2, carried.lattice.width_in / 2)
    aimed = carried.lattice.nearest(middle)
    return Marking(carried, plain, lit, cut, aimed, carried.expected(aimed), known, area=area).aiming()
