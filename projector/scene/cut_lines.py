"""The lines of the stop's cut: its edges, trims, folds, the stiffener's line and the pins."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import TurnedOver
from jobs.model.cuts import Cut
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.pin_places import pin_places
from projector.scene.sideways_lines import height_trims, level_folds, level_pins, level_stiffener, parting_lines
from projector.scene.sizes import PIN_HALF_IN, TICK_HALF_IN, TICK_OFF_IN


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


def hemmed_sides(lit: LitStop) -> tuple[bool, bool]:
    """Whether the near and the far side of the cut are hemmed; the others are seamed to the next cut of the panel.

    Cuts of a panel are numbered from the leading edge.
    """
    cut = lit.placement.cut
    leading, returning = cut.number == 1, cut.number == cut.of
    return (leading, returning) if lit.leading_is_near else (returning, leading)


def side_folds(lit: LitStop) -> tuple[float, ...]:
    """Table y of the side folds: a side hem inside the printed edge, or inside what is trimmed or slit."""
    inset = float(lit.cloth.selvedge + lit.plan.job.allowances.side_hem)
    if lit.plan.job.allowances.side_hem <= 0:
        return ()
    cut = lit.placement.cut
    if cut.near_side is not None and cut.far_side is not None:
        return tuple(float(side.line) for side in (cut.near_side, cut.far_side) if not side.joined)
    near, far = hemmed_sides(lit)
    return ((inset,) if near else ()) + ((lit.width - inset,) if far else ())


def end_folds(lit: LitStop) -> tuple[float, ...]:
    """Table x of the finished top and the finished foot, where lit."""
    cut = lit.placement.cut
    top = lit.top_x - lit.towards_top * float(cut.heading)
    foot = lit.foot_x + lit.towards_top * float(cut.hem)
    folds = ((cut.heading, top), (cut.hem, foot))
    return tuple(x for allowance, x in folds if allowance > 0 and lit.light.left <= x <= lit.light.right)


def fold_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """All fold lines of the cut inside the lit stretch; of a sideways panel those of its doubled hems too."""
    if lit.is_sideways:
        return level_folds(lit)
    ends = tuple(Stroke(Kind.FOLD, ((x, lit.near), (x, lit.far))) for x in end_folds(lit))
    sides = tuple(Stroke(Kind.FOLD, ((lit.cut.left, y), (lit.cut.right, y))) for y in side_folds(lit))
    return ends + sides


def inner_folds(lit: LitStop) -> tuple[Stroke, ...]:
    """The folds half a hem outside the finished foot and the finished sides, where the job has them turned twice."""
    if lit.is_sideways:
        return ()
    doubled, cut = lit.plan.job.doubled, lit.placement.cut
    marks: tuple[Stroke, ...] = ()
    if TurnedOver.HEM in doubled and cut.hem > 0:
        marks += _line_across(lit, Kind.FOLD, lit.foot_x + lit.towards_top * float(cut.hem / 2))
    if TurnedOver.SIDE_HEM in doubled:
        half = float(lit.plan.job.allowances.side_hem / 2)
        middle = (lit.near + lit.far) / 2
        lines = tuple(y - half if y < middle else y + half for y in side_folds(lit))
        marks += tuple(Stroke(Kind.FOLD, ((lit.cut.left, y), (lit.cut.right, y))) for y in lines)
    return marks


def stiffener_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """The line below the cut edge of the heading to which the stiffener is laid, where the job has one."""
    if lit.is_sideways:
        return level_stiffener(lit)
    below = lit.plan.job.stiffener
    return () if below is None else _line_across(lit, Kind.STIFFENER, lit.top_x - lit.towards_top * float(below))


def _line_across(lit: LitStop, kind: Kind, x: float) -> tuple[Stroke, ...]:
    """A line across the cut at table x, where lit."""
    return (Stroke(kind, ((x, lit.near), (x, lit.far))),) if lit.light.left <= x <= lit.light.right else ()


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
