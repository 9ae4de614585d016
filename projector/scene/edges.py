"""Cut lines: the top and foot edge of the stop's cut, and the line to square the first end of a piece."""

from __future__ import annotations

from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.sizes import TICK_HALF_IN, TICK_OFF_IN


def _edge(x: float, width: float) -> tuple[Stroke, ...]:
    ticks = (-TICK_OFF_IN, width + TICK_OFF_IN)
    return (
        Stroke(Kind.CUT, ((x, 0.0), (x, width))),
        *(Stroke(Kind.CUT, ((x - TICK_HALF_IN, y), (x + TICK_HALF_IN, y))) for y in ticks),
    )


def cut_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """The lit edges of the cut, selvedge to selvedge, each with a short cross-tick beyond both selvedges."""
    shown = ((lit.shows_top, lit.top_x), (lit.shows_foot, lit.foot_x))
    return tuple(mark for is_lit, x in shown if is_lit for mark in _edge(x, lit.width))


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
