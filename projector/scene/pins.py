"""Pin or hook places: short ticks on the finished top, evenly spread over the whole panel."""

from __future__ import annotations

from fractions import Fraction

from jobs.plan import Cut
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.pin_places import pin_places
from projector.scene.sideways_lines import level_pins
from projector.scene.sizes import PIN_HALF_IN

__all__ = ["pin_marks", "pin_places"]


def pin_marks(lit: LitStop) -> tuple[Stroke, ...]:
    """The pins of the stop's own cut where its finished top is lit; none where the job has none.

    Cuts of a panel are numbered from its leading edge, and so pins are counted: a pin on a seam is lit on both cuts.
    """
    if lit.is_sideways:
        return level_pins(lit)
    pins, cut = lit.plan.job.pins, lit.placement.cut
    x = lit.top_x - lit.towards_top * float(cut.heading)
    if pins is None or not lit.light.left <= x <= lit.light.right:
        return ()
    sides = [finished_sides(lit, other) for other in _panel(lit)]
    widths = [far - near for near, far in sides]
    before = sum(widths[: cut.number - 1], Fraction(0))
    near, far = sides[cut.number - 1]
    marks = []
    for place in pin_places(sum(widths, Fraction(0)), pins):
        inside = place - before
        if 0 <= inside <= far - near:
            y = float(near + inside if lit.leading_is_near else far - inside)
            marks.append(Stroke(Kind.PIN, ((x - PIN_HALF_IN, y), (x + PIN_HALF_IN, y))))
    return tuple(marks)


def finished_sides(lit: LitStop, cut: Cut) -> tuple[Fraction, Fraction]:
    """Where the near and the far side of a cut are seamed or folded, across from the near selvedge."""
    inset = lit.cloth.selvedge + lit.plan.job.allowances.side_hem
    near, far = cut.across or (Fraction(0), lit.cloth.width)
    return (
        near + inset if cut.near_side is None else cut.near_side.line,
        far - inset if cut.far_side is None else cut.far_side.line,
    )


def _panel(lit: LitStop) -> tuple[Cut, ...]:
    """The cuts of the stop's panel, from its leading edge."""
    own = lit.placement.cut
    cuts = [cut for cut in lit.plan.cuts if (cut.window, cut.hand, cut.panel) == (own.window, own.hand, own.panel)]
    return tuple(sorted(cuts, key=lambda cut: cut.number))
