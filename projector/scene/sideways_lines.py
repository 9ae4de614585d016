"""The lines of a cut of cloth run sideways: edges across the cloth, top, foot, heading and hem along it."""

from __future__ import annotations

from jobs.cutting.sideways.sizes import side_hem_of
from jobs.model.choices import TurnedOver
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.pin_places import pin_places
from projector.scene.sizes import PIN_HALF_IN, TICK_HALF_IN, TICK_OFF_IN


def parting_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """The lit leading and return edge, each with a short cross-tick beyond a selvedge it reaches.

    They run from selvedge to selvedge, or where panels lie one above the other as far as the next one, from which this
    one is slit.
    """
    below, above = _neighbours(lit)
    near, far = lit.near if below else 0.0, lit.far if above else lit.width
    shown = ((lit.shows_leading, lit.leading_x), (lit.shows_return, lit.return_x))
    marks: list[Stroke] = []
    for is_lit, x in shown:
        if is_lit:
            marks.append(Stroke(Kind.CUT, ((x, near), (x, far))))
            ticks = ([] if below else [-TICK_OFF_IN]) + ([] if above else [lit.width + TICK_OFF_IN])
            marks += (Stroke(Kind.CUT, ((x - TICK_HALF_IN, y), (x + TICK_HALF_IN, y))) for y in ticks)
    return (*marks, *_level(lit, Kind.CUT, *([lit.near] if below else []), *([lit.far] if above else [])))


def _neighbours(lit: LitStop) -> tuple[bool, bool]:
    """Whether another panel of the same length lies right below and right above across the cloth."""
    own = lit.placement
    mates = [
        other.cut.across
        for other in lit.plan.placements
        if own.cut.beside and other.cut.beside == own.cut.beside and other.cut.id != own.cut.id and other.cut.across
    ]
    near, far = own.cut.across or (None, None)
    return any(mate[1] == near for mate in mates), any(mate[0] == far for mate in mates)


def height_trims(lit: LitStop) -> tuple[Stroke, ...]:
    """Top and foot edge, where the cloth beyond is cut away once the panel is parted from the piece."""
    below, above = _neighbours(lit)
    slit = ([lit.near] if below else []) + ([lit.far] if above else [])
    return _level(lit, Kind.TRIM, *(y for y in (lit.top_y, lit.foot_y) if 0 < y < lit.width and y not in slit))


def level_folds(lit: LitStop) -> tuple[Stroke, ...]:
    """Finished top and foot along the piece, side hems across it, and the inner folds of what is turned twice."""
    cut, doubled = lit.placement.cut, lit.plan.job.doubled
    hem = float(cut.hem)
    heights = [lit.top_y - lit.rising * float(cut.heading)] if cut.heading else []
    heights += [lit.foot_y + lit.rising * hem] if hem else []
    heights += [lit.foot_y + lit.rising * hem / 2] if hem and TurnedOver.HEM in doubled else []
    side = float(side_hem_of(lit.plan.job))
    sides = [side] if side else []
    sides += [side / 2] if side and TurnedOver.SIDE_HEM in doubled else []
    first, last = sorted((lit.leading_x, lit.return_x))
    return (
        *_level(lit, Kind.FOLD, *heights),
        *(_upright(lit, x) for hem in sides for x in (first + hem, last - hem) if lit.cut.left <= x <= lit.cut.right),
    )


def level_stiffener(lit: LitStop) -> tuple[Stroke, ...]:
    """The line below the cut edge of the heading to which the stiffener is laid, where the job has one."""
    below = lit.plan.job.stiffener
    return () if below is None else _level(lit, Kind.STIFFENER, lit.top_y - lit.rising * float(below))


def level_pins(lit: LitStop) -> tuple[Stroke, ...]:
    """The pins on the finished top, counted from the fold of the leading edge; none where the job has none."""
    job, cut = lit.plan.job, lit.placement.cut
    y = lit.top_y - lit.rising * float(cut.heading)
    if job.pins is None or y > lit.light.far:
        return ()
    hem, inward = side_hem_of(job), 1 if cut.leading_is_first else -1
    places = (lit.leading_x + inward * float(hem + place) for place in pin_places(cut.length - 2 * hem, job.pins))
    return tuple(
        Stroke(Kind.PIN, ((x, y - PIN_HALF_IN), (x, y + PIN_HALF_IN)))
        for x in places
        if lit.cut.left <= x <= lit.cut.right
    )


def _level(lit: LitStop, kind: Kind, *heights: float) -> tuple[Stroke, ...]:
    """Lines along the lit part of the cut, those of them that the light reaches."""
    return tuple(Stroke(kind, ((lit.cut.left, y), (lit.cut.right, y))) for y in heights if y <= lit.light.far)


def _upright(lit: LitStop, x: float) -> Stroke:
    return Stroke(Kind.FOLD, ((x, lit.near), (x, lit.far)))
