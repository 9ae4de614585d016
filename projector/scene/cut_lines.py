"""The lines of the stop's cut: its edges, trims, folds, the stiffener's line and the pins."""

from __future__ import annotations

import math
from fractions import Fraction

from jobs.model.choices import TurnedOver
from jobs.model.cuts import Cut, Edge
from jobs.model.job import Pins
from projector.scene.lit_stop import LitStop
from projector.scene.marks import PIN_HALF_IN, TICK_HALF_IN, TICK_OFF_IN, Kind, Stroke


def edges_of(cut: Cut) -> tuple[Edge, Edge, Edge, Edge]:
    """Top, foot, leading and return edge."""
    return cut.top_edge, cut.foot_edge, cut.leading_edge, cut.return_edge


def cut_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """The lit ends of the cut, over the strip that is parted with it, each with a short cross-tick beyond a selvedge it
    reaches; and the slits along that strip. Where it shares a length with others, the ends of that from selvedge to
    selvedge, as they are cut first, and the slits from the one to the other.
    """
    cut = lit.placement.cut
    near, far = map(float, cut.parted)
    ends = {lit.at(edge): (near, far) for edge in edges_of(cut) if edge.is_end and edge in lit.shown}
    if cut.beside:
        ends |= {lit.x(at): (0.0, lit.width) for at in lit.placement.crosscuts if lit.lit_from <= at <= lit.lit_to}
    marks: list[Stroke] = []
    for x, (low, high) in ends.items():
        marks.append(Stroke(Kind.CUT, ((x, low), (x, high))))
        ticks = [
            y for y, reached in ((-TICK_OFF_IN, low == 0), (lit.width + TICK_OFF_IN, high == lit.width)) if reached
        ]
        marks += (Stroke(Kind.CUT, ((x - TICK_HALF_IN, y), (x + TICK_HALF_IN, y))) for y in ticks)
    return (*marks, *(stroke for y in (near, far) if 0 < y < lit.width for stroke in lit.slit(Kind.CUT, y)))


def side_trims(lit: LitStop) -> tuple[Stroke, ...]:
    """Where cloth is cut away along the cut once it is parted from the piece: beyond its edges, and before its sides
    are sewn.
    """
    cut, marks = lit.placement.cut, tuple[Stroke, ...]()
    for edge in edges_of(cut):
        side = cut.side_at(edge)
        trim = side.trim if side is not None else Fraction(0)
        beyond = not edge.is_end and edge.at(cut.parted, cut.parted) != lit.placement.at(edge)
        if trim or (beyond and 0 < lit.at(edge) < lit.width):
            marks += lit.line(Kind.TRIM, edge, trim)
    return marks


def trim_lines(lit: LitStop, done: frozenset[str]) -> tuple[Stroke, ...]:
    """The line to square the first end along, until the first cut of the piece is done."""
    squaring = lit.plan.job.allowances.squaring
    placed = [p for p in lit.plan.placements if p.piece == lit.placement.piece]
    first = min((p.crosscuts[0] for p in placed), default=lit.placement.start)
    untouched = not any(p.cut.id in done for p in placed)
    if not untouched or squaring <= 0 or squaring >= first or not lit.lit_from <= squaring <= lit.lit_to:
        return ()
    x = lit.x(squaring)
    return (Stroke(Kind.TRIM, ((x, 0.0), (x, lit.width))),)


def hems(cut: Cut) -> dict[Edge, Fraction]:
    """What is turned over at each edge of a cut, where anything is."""
    turned = {cut.top_edge: cut.heading, cut.foot_edge: cut.hem}
    turned |= {cut.leading_edge: cut.leading_side.hem, cut.return_edge: cut.return_side.hem}
    return {edge: hem for edge, hem in turned.items() if hem > 0}


def fold_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """All fold lines of the cut inside the lit stretch."""
    cut = lit.placement.cut
    return tuple(stroke for edge in hems(cut) for stroke in lit.line(Kind.FOLD, edge, cut.fold(edge)))


def inner_folds(lit: LitStop) -> tuple[Stroke, ...]:
    """The folds half a hem outside the finished foot and the finished sides, where these are turned twice."""
    cut, job = lit.placement.cut, lit.plan.job
    if seamed(lit):
        return ()
    twice = {cut.foot_edge} if job.is_turned_twice(cut.window, TurnedOver.HEM) else set[Edge]()
    twice |= {cut.leading_edge, cut.return_edge} if job.is_turned_twice(cut.window, TurnedOver.SIDE_HEM) else set()
    folds = ((edge, cut.fold(edge) - hem / 2) for edge, hem in hems(cut).items() if edge in twice)
    return tuple(stroke for edge, inside in folds for stroke in lit.line(Kind.FOLD, edge, inside))


def seamed(lit: LitStop) -> bool:
    """Whether the cut is seamed all round, not hemmed: a band, a tie-back, a cushion."""
    made = lit.plan.job.made_for(lit.placement.cut.window)
    return made is not None and made.seamed


def stiffener_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """The line below the cut edge of the heading to which the stiffener is laid, where the job has one."""
    below, cut = lit.plan.job.stiffener, lit.placement.cut
    if below is None or below >= cut.heading or lit.plan.job.made_for(cut.window) is not None:
        return ()
    return lit.line(Kind.STIFFENER, cut.top_edge, below)


def pin_marks(lit: LitStop) -> tuple[Stroke, ...]:
    """The pins of the stop's own cut where its finished top is lit; none where the job has none, and none in linings.

    Cuts of a panel are numbered from its leading edge, and so pins are counted: a pin on a seam is lit on both cuts.
    """
    pins, cut = lit.plan.job.pins, lit.placement.cut
    if pins is None or lit.plan.job.made_for(cut.window) or not lit.line(Kind.FOLD, cut.top_edge, cut.heading):
        return ()
    top = lit.at(cut.top_edge, cut.heading)
    widths = [other.finished_width for other in _panel(lit)]
    before = sum(widths[: cut.number - 1], Fraction(0))
    marks = []
    for inside in (place - before for place in pin_places(sum(widths, Fraction(0)), pins)):
        if not 0 <= inside <= widths[cut.number - 1]:
            continue
        at = lit.at(cut.leading_edge, cut.leading_side.line + inside)
        if cut.top_edge.is_end:
            marks.append(Stroke(Kind.PIN, ((top - PIN_HALF_IN, at), (top + PIN_HALF_IN, at))))
        elif lit.cut.left <= at <= lit.cut.right:
            marks.append(Stroke(Kind.PIN, ((at, top - PIN_HALF_IN), (at, top + PIN_HALF_IN))))
    return tuple(marks)


def pin_places(width: Fraction, pins: Pins) -> tuple[Fraction, ...]:
    """Places across a panel ``width`` wide, finished and flat, from one side: equal steps no longer than the spacing.

    A panel too narrow for two pins has one in its middle.
    """
    between = width - 2 * pins.from_side
    if between <= 0:
        return (width / 2,)
    steps = math.ceil(between / pins.spacing)
    return tuple(pins.from_side + between * k / steps for k in range(steps + 1))


def _panel(lit: LitStop) -> tuple[Cut, ...]:
    """The cuts of the stop's panel, from its leading edge."""
    own = lit.placement.cut
    cuts = [cut for cut in lit.plan.cuts if (cut.window, cut.hand, cut.panel) == (own.window, own.hand, own.panel)]
    return tuple(sorted(cuts, key=lambda cut: cut.number))
