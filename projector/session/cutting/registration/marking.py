"""The print as it really lies under the light, for a session: motif points being marked, and what was kept of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field, replace
from fractions import Fraction

from calibration.problems import PointsRefused, Problem
from calibration.registration.advice import ENOUGH, where_next
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import Motif, PrintLattice, PrintPoint
from calibration.registration.registering import Registration, register
from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from projector.scene.marks import Point
from projector.scene.print_marks import NoLattice, lattice_of
from projector.session.cutting.light import STEPS_PER_INCH, Motion
from projector.session.layout import is_inside


@dataclass(frozen=True)
class Registered:
    """The fit while position ``at_left`` of the piece lay at the left end, and the points it came from.

    ``ticks`` tells how many cuts were done by then, so that undoing takes the last thing first,
    ``motion_before`` how the light was moved by hand when it was kept.
    """

    piece: int
    cut: str
    at_left: Fraction
    fit: PrintFit
    points: tuple[PrintPoint, ...]
    ticks: int = 0
    motion_before: Motion = field(default_factory=Motion)

    def fit_at(self, at_left: Fraction) -> PrintFit:
        """The fit once the cloth was pulled along its selvedge to another position."""
        return self.fit.pulled(float(at_left - self.at_left))

    def is_for(self, stop: Stop) -> bool:
        """Whether the cloth has not been pulled since: same cut, same position."""
        return self.cut == stop.placement.cut.id and self.at_left == stop.cloth_at_left


def last_on(registered: Sequence[Registered], piece: int) -> Registered | None:
    """The last registration of a piece of cloth."""
    return next((one for one in reversed(registered) if one.piece == piece), None)


def lattices_of(plan: Plan) -> tuple[PrintLattice | None, ...]:
    """The print of each piece; None where the cloth is plain or its repeat across is not given."""
    found: list[PrintLattice | None] = []
    for use in plan.pieces:
        try:
            found.append(lattice_of(plan.job.cloth, use.piece))
        except NoLattice:
            found.append(None)
    return tuple(found)


@dataclass(frozen=True)
class Marking:
    """Motif points being marked at one stop: the cross in hand, the points, what they say so far.

    ``carried`` is the light as it was, ``plain`` the cloth as planned; ``lit`` the stretch of the piece in light.
    ``known`` tells that the cloth was registered before, so that one point is enough to find it again.
    ``registration`` is fitted to the points when these change, not when it is asked for. ``offset_64ths`` is how far
    the cross was moved from where ``aimed`` is expected, ``motif`` the row and column given by hand (None: the
    nearest). ``to_light`` tells that the cloth is moved to the light instead of the light to the cloth. ``area`` is the
    convex part of the table on which a point may be proposed; empty: all of it. ``photographed`` tells that the points
    are those of a photograph, which are taken back together, ``row_open`` that it could not tell which row is which.
    """

    carried: PrintFit
    plain: PrintFit
    lit: tuple[float, float]
    cut: tuple[float, float]
    aimed: Motif
    start: Point
    known: bool = False
    registration: Registration | None = None
    offset_64ths: tuple[int, int] = (0, 0)
    motif: Motif | None = None
    refused: Problem | None = None
    to_light: bool = False
    area: tuple[Point, ...] = ()
    photographed: bool = False
    row_open: bool = True

    @property
    def points(self) -> tuple[PrintPoint, ...]:
        """The points marked so far."""
        return self.registration.points if self.registration else ()

    @property
    def at(self) -> Point:
        """Where the cross is lit, table inches."""
        (x, y), (right, away) = self.start, self.offset_64ths
        return x + right / STEPS_PER_INCH, y + away / STEPS_PER_INCH

    @property
    def fit(self) -> PrintFit:
        """The light as it follows the points."""
        return self.registration.fit if self.registration else self.carried

    @property
    def proposed(self) -> Motif:
        """Row and column that confirming would give the cross."""
        return self.motif or self.fit.nearest_motif(self.at)

    @property
    def row_in_question(self) -> int | None:
        """The row that a person looks at once a photograph has told the rest: the first one in the light.

        One row of a print looks like the next. None where no photograph tells, where an end of the cloth was seen in
        it, or where no whole row is lit.
        """
        asked = self.photographed and self.row_open
        rows = self.fit.lattice.rows_between(*self.lit) if asked else ()
        return rows[0] if rows else None

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
        try:
            registration = register((*kept, PrintPoint(row, column, self.at)), self.carried)
        except PointsRefused as refused:
            return replace(self, refused=refused.problems[0])
        return replace(self, registration=registration).aiming()

    def shown_by(self, registration: Registration, *, row_open: bool) -> Marking:
        """The print as a photograph shows it, instead of what was marked by hand."""
        seen = replace(self.put_back(), registration=registration, refused=None)
        return replace(seen, photographed=True, row_open=row_open)

    def by_hand(self) -> Marking:
        """Without the points of a photograph; those marked by hand stay."""
        return replace(self, registration=None, photographed=False) if self.photographed else self

    def taken_back(self) -> Marking:
        """Without the last point; the cross stands where that was marked."""
        if not self.points:
            return self
        *points, last = self.points
        return replace(
            self.put_back(),
            registration=register(points, self.carried) if points else None,
            aimed=last.motif,
            start=last.table_in,
        )

    def put_back(self) -> Marking:
        """The cross where it was before it was moved, its row and column not yet given by hand."""
        return replace(self, offset_64ths=(0, 0), motif=None)

    def aiming(self) -> Marking:
        """The cross where the motif point that helps most is expected; where it was when none is left."""
        done = [point.motif for point in self.points]
        aimed = where_next(self.fit.lattice, *self.span, done, self._is_seen) or self.aimed
        return replace(self.put_back(), aimed=aimed, start=self.fit.expected(aimed), refused=None)

    def _is_seen(self, motif: Motif) -> bool:
        """Whether a motif point lies in the lit stretch, and on the table as far as is known."""
        along = float(self.fit.lattice.places([motif])[0][0])
        inside = not self.area or is_inside(self.fit.expected(motif), self.area)
        return self.lit[0] <= along <= self.lit[1] and inside

    @property
    def span(self) -> tuple[float, float]:
        """The part of the cut that is lit, in piece inches; what is lit where that is none."""
        low, high = max(self.lit[0], self.cut[0]), min(self.lit[1], self.cut[1])
        return (low, high) if low < high else self.lit


def begin_marking(carried: PrintFit, stop: Stop, known: bool, area: tuple[Point, ...] = ()) -> Marking:
    """The first cross at a stop; ``carried`` is the light as it lies now."""
    lit = (float(stop.lit_from), float(stop.lit_to))
    cut = (float(stop.placement.start), float(stop.placement.end))
    plain = PrintFit.plain(carried.lattice, float(stop.cloth_at_left))
    middle = ((lit[0] + lit[1]) / 2, carried.lattice.width_in / 2)
    aimed = carried.lattice.nearest(middle)
    return Marking(carried, plain, lit, cut, aimed, carried.expected(aimed), known, area=area).aiming()
