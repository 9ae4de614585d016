"""Cut lines: the top and foot edge of the stop's cut, and the line to square the first end of a piece."""

from __future__ import annotations

from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.sideways_lines import height_trims, parting_lines
from projector.scene.sizes import TICK_HALF_IN, TICK_OFF_IN


def _edge(x: float, lit: LitStop) -> tuple[Stroke, ...]:
    ticks = [-TICK_OFF_IN] if lit.near == 0 else []
    ticks += [lit.width + TICK_OFF_IN] if lit.far == lit.width else []
    return (
        Stroke(Kind.CUT, ((x, lit.near), (x, lit.far))),
        *(Stroke(Kind.CUT, ((x - TICK_HALF_IN, y), (x + TICK_HALF_IN, y))) for y in ticks),
    )


def cut_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """The lit edges of the cut, from side to side, each with a short cross-tick beyond a selvedge it reaches.

    A cut that takes a strip of the width is slit along its other sides too.
    """
    if lit.is_sideways:
        return parting_lines(lit)
    shown = ((lit.shows_top, lit.top_x), (lit.shows_foot, lit.foot_x))
    edges = tuple(mark for is_lit, x in shown if is_lit for mark in _edge(x, lit))
    slits = (y for y in (lit.near, lit.far) if 0 < y < lit.width and y <= lit.light.far)
    return edges + tuple(Stroke(Kind.CUT, ((lit.cut.left, y), (lit.cut.right, y))) for y in slits)


def side_trims(lit: LitStop) -> tuple[Stroke, ...]:
    """Where cloth is cut away along the sides of the cut before they are sewn, or above and below a sideways panel."""
    if lit.is_sideways:
        return height_trims(lit)
    cut = lit.placement.cut
    lines = (float(side.trim) for side in (cut.near_side, cut.far_side) if side is not None and side.trim is not None)
    return tuple(Stroke(Kind.TRIM, ((lit.cut.left, y), (lit.cut.right, y))) for y in lines if y <= lit.light.far)


def trim_lines(lit: LitStop, done: frozenset[str]) -> tuple[Stroke, ...]:
    """The line to square the first end along, until the first cut of the piece is done."""
    squaring = lit.plan.job.allowances.squaring
    placed = [p for p in lit.plan.placements if p.piece == lit.placement.piece]
    first = min((p.start for p in placed), default=lit.placement.start)
    untouched = not any(p.cut.id in done for p in placed)
    if not untouched or squaring <= 0 or squaring >= first or not lit.lit_from <= squaring <= lit.lit_to:
        return ()
    x = lit.x(squaring)
    return (Stroke(Kind.TRIM, ((x, 0.0), (x, lit.width))),)
