"""Pin or hook places: short ticks on the finished top, evenly spread over the whole panel."""

from __future__ import annotations

import math
from fractions import Fraction

from jobs.job import Pins
from jobs.plan import Cut
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.sizes import PIN_HALF_IN


def pin_places(width: Fraction, pins: Pins) -> tuple[Fraction, ...]:
    """Places across a panel ``width`` wide, finished and flat, from one side: equal steps no longer than the spacing.

    A panel too narrow for two pins has one in its middle.
    """
    between = width - 2 * pins.from_side
    if between <= 0:
        return (width / 2,)
    steps = math.ceil(between / pins.spacing)
    return tuple(pins.from_side + between * k / steps for k in range(steps + 1))


def pin_marks(lit: LitStop) -> tuple[Stroke, ...]:
    """The pins of the stop's own cut where its finished top is lit; none where the job has none.

    Cuts of a panel are numbered from its leading edge, and so pins are counted: a pin on a seam is lit on both cuts.
    """
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
