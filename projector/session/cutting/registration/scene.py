"""Registering as light: the cross in hand, points marked, targets, the rows of the first panel, the arrow of a pull."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from calibration.registration.fit import PrintFit
from jobs.model.choices import Follow
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand, Placement, Way
from projector.scene.boxes import around
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke
from projector.scene.moved import fit_to_follow
from projector.session.cutting.registration.marking import Marking, Registered
from projector.session.layout import Lines, is_inside, words

ARM_IN = 1.0
POINT_IN = 0.3
GAP_IN = 0.08
"""The cross is open at its middle, so that the motif point can be seen."""
GHOST_IN = 2.0
TALLEST_IN = 1.1
ARROW_IN = 10.0


def cross(at: Point, arm_in: float, kind: Kind = Kind.TARGET) -> tuple[Stroke, ...]:
    """Four short strokes around a place, open in the middle."""
    x, y = at
    ways = ((1, 0), (-1, 0), (0, 1), (0, -1))
    return tuple(Stroke(kind, ((x + a * GAP_IN, y + b * GAP_IN), (x + a * arm_in, y + b * arm_in))) for a, b in ways)


def marking_lit(marking: Marking, said: Lines, area: Sequence[Point]) -> Scene:
    """The cross in hand, points marked so far, and words where there is room: over the light that follows them."""
    marks: list[Mark] = []
    for point in marking.points:
        marks += cross(point.table_in, POINT_IN)
    if marking.to_light:
        marks += [stroke for place in _targets(marking) for stroke in cross(place, 2 * POINT_IN, Kind.GUIDE)]
    marks += cross(marking.at, ARM_IN)
    room = (around(marking.at, 2 * ARM_IN + 1, 2 * ARM_IN + 1),)
    shown = words(said, area, room, tallest_in=TALLEST_IN)
    return Scene((*marks, *shown.marks))


def row_in_question(marking: Marking, area: Sequence[Point]) -> Scene:
    """Crosses on the motif points of the row that is asked about, as far as they lie on the table."""
    row, lattice = marking.row_in_question, marking.fit.lattice
    if row is None:
        return Scene()
    places = [marking.fit.expected((row, column)) for column in range(lattice.columns)]
    seen = [place for place in places if not area or is_inside(place, area)]
    return Scene(tuple(stroke for place in seen for stroke in cross(place, ARM_IN)))


def _targets(marking: Marking) -> list[Point]:
    """Where the light wants motif points of the lit stretch, cloth lying as planned."""
    lattice, (low, high) = marking.plain.lattice, marking.lit
    motifs = [(row, column) for column in range(lattice.columns) for row in lattice.rows_between(low, high, column)]
    return [marking.plain.expected(motif) for motif in motifs]


def first_of_pair(
    placed: Placement, registered: Sequence[Registered], placements: Sequence[Placement]
) -> tuple[Registered, Placement] | None:
    """How the other hand's cut of the same number was last registered, and its place; None where it was not."""
    other = {Hand.LEFT: Hand.RIGHT, Hand.RIGHT: Hand.LEFT}.get(placed.cut.hand)
    for first in placements:
        cut = first.cut
        if cut.window == placed.cut.window and cut.hand is other and cut.number == placed.cut.number:
            last = next((one for one in reversed(registered) if one.cut == cut.id), None)
            return (last, first) if last else None
    return None


def rows_below_top(
    was: Registered, placed: Placement, follow: Follow, across_in: float, further_in: float = 0.0
) -> tuple[float, ...]:
    """How far below its top edge a cut has its rows, in inches of the cloth as it lay, at a distance from the selvedge.

    The edge as it was lit, the rows as the print lay: with cut lines square to the selvedge they differ. Rows are
    counted ``further_in`` planned inches further down.
    """
    lattice, lit = was.fit.lattice, fit_to_follow(was.fit, follow)
    motifs = [
        (row, 0)
        for row in lattice.rows_between(
            float(placed.start) - 2 * lattice.along_in, float(placed.end) + 2 * lattice.along_in
        )
    ]
    rows = lattice.places(motifs)[:, 0]
    places = was.fit.to_table(np.column_stack([rows, np.full_like(rows, across_in)]))
    along = lit.to_piece(places)[:, 0]
    down = -placed.cut.top_edge.sense
    below = (down * (along - float(placed.top)) + further_in % lattice.along_in) * was.fit.stretch_along
    return tuple(float(at) for at in np.sort(below) if 0 <= at <= float(placed.cut.length) * was.fit.stretch_along)


def ghost(first: tuple[Registered, Placement], placed: Placement, fit: PrintFit, cloth: Cloth) -> Scene:
    """The rows of the first panel as short bars at both selvedges of the second, where its top edge is lit now.

    In table inches, where the fit lays the second cut. A turned one has its rows as far below the mirror line of the
    print as an upright one has them above it. Nothing where the top lies at a selvedge: the rows run along the piece
    then, and both panels are lit from the same columns.
    """
    if not placed.cut.top_edge.is_end:
        return Scene()
    registered, was = first
    follow = cloth.follow
    lit, width = fit_to_follow(fit, follow), fit.lattice.width_in
    up = -placed.cut.top_edge.sense
    turns = int(placed.cut.way is Way.TURNED) - int(was.cut.way is Way.TURNED)
    further = float(2 * turns * cloth.print.mirror_offset)
    bars: list[Mark] = []
    for across, out in ((0.0, -GHOST_IN), (width, width + GHOST_IN)):
        mirrored = placed.cut.leading_edge is not was.cut.leading_edge
        source = width - across if mirrored else across
        for below in rows_below_top(registered, was, follow, source, further):
            along = float(placed.top) + up * below / fit.stretch_along
            (x0, y0), (x1, y1) = lit.to_table([(along, across), (along, out)]).tolist()
            bars.append(Stroke(Kind.GUIDE, ((x0, y0), (x1, y1))))
    return Scene(tuple(bars))


def pull_arrow(at: Point, to_left: bool, length_in: float = ARROW_IN) -> Scene:
    """An arrow that points the way the cloth is pulled, its middle at a place."""
    x, y = at
    way = -1 if to_left else 1
    tip, tail = (x + way * length_in / 2, y), (x - way * length_in / 2, y)
    barb = length_in / 6
    head = ((tip[0] - way * barb, y + barb), tip, (tip[0] - way * barb, y - barb))
    return Scene((Stroke(Kind.TARGET, (tail, tip)), Stroke(Kind.TARGET, head)))
