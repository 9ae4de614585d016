"""Measures for the sewing that follows: folds, seams, sides that are trimmed, and where pins go."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from jobs.cutting.sideways.sizes import side_hem_of
from jobs.model.choices import Run, TurnedOver
from jobs.plan import Cut, Plan, Side
from projector.papers.hung_panel import HungPanel, hung_panels
from projector.papers.sheet.flow import Block, heading, paragraph
from projector.papers.sheet.say import Say, name_of
from projector.scene.pin_places import pin_places

_NAMES_SAID = 3
_PLACES_SAID = 16


def fold_blocks(plan: Plan, say: Say, room: float) -> Iterator[Block]:
    """Where each kind of cut is folded and seamed, and where pins go when the job says so."""
    yield heading("Folds, seams and pins")
    for said in (*_end_words(plan, say), *_side_words(plan, say), *_pin_words(plan, say)):
        yield paragraph(said, room)


def _end_words(plan: Plan, say: Say) -> Iterator[str]:
    job = plan.job
    for top, foot in dict.fromkeys((cut.heading, cut.hem) for cut in plan.cuts):
        if top:
            yield f"Heading: fold {say(top)} below the top edge."
        if foot and TurnedOver.HEM in job.doubled:
            yield f"Hem, turned twice: fold {say(foot / 2)} and then {say(foot)} above the foot edge."
        elif foot:
            yield f"Hem: fold {say(foot)} above the foot edge."
    if job.stiffener is not None:
        yield f"Stiffener: its upper edge {say(job.stiffener)} below the cut edge of the heading."


def _side_words(plan: Plan, say: Say) -> Iterator[str]:
    """Seams and side folds; where cuts of a job differ in them, which cuts have which."""
    allowances, kinds = plan.job.allowances, _kinds_of_sides(plan)
    if allowances.side_hem:
        hem = side_hem_of(plan.job) if plan.job.cloth.run is Run.SIDEWAYS else allowances.side_hem
        twice = f", turned twice, {say(hem / 2)} each time" if _sides_twice(plan) else ""
        yield f"Side hems: {say(hem)}{twice}."
    if allowances.seam and any(cut.of > 1 for cut in plan.cuts):
        yield f"Seams between cuts of a panel: {say(allowances.seam)} in each."
    for (near, far), cuts in kinds.items():
        if near is not None and far is not None:
            names = "; ".join(name_of(cut) for cut in cuts[:_NAMES_SAID])
            more = f" and {len(cuts) - _NAMES_SAID} more" if len(cuts) > _NAMES_SAID else ""
            whose = f" ({names}{more})" if len(kinds) > 1 else ""
            yield f"Sides, from the near selvedge: {_side(near, say)}; {_side(far, say)}{whose}."


def _sides_twice(plan: Plan) -> bool:
    return TurnedOver.SIDE_HEM in plan.job.doubled


def _kinds_of_sides(plan: Plan) -> dict[tuple[Side | None, Side | None], list[Cut]]:
    kinds: dict[tuple[Side | None, Side | None], list[Cut]] = {}
    for placed in plan.placements:
        kinds.setdefault((placed.cut.near_side, placed.cut.far_side), []).append(placed.cut)
    return kinds


def _side(side: Side, say: Say) -> str:
    what = f"{'seam' if side.joined else 'fold'} at {say(side.line)}"
    return what if side.trim is None else f"{what}, trim at {say(side.trim)}"


def _sewn_width(panel: HungPanel, plan: Plan) -> Fraction:
    """The flat width between the side folds while it is sewn; what a sideways panel loses in the wash is lost later."""
    if panel.cuts and panel.cuts[0].placement.cut.is_sideways:
        return panel.cuts[0].placement.cut.length - 2 * side_hem_of(plan.job)
    return panel.width


def _pin_words(plan: Plan, say: Say) -> Iterator[str]:
    """For each width of panel how many pins and where, counted from either side."""
    pins = plan.job.pins
    if pins is None:
        return
    panels = [panel for window in plan.job.windows for panel in hung_panels(plan, window.name)]
    for width in dict.fromkeys(_sewn_width(panel, plan) for panel in panels):
        places = pin_places(width, pins)
        where = ", ".join(say(place) for place in places[:_PLACES_SAID])
        on = " and so on evenly" if len(places) > _PLACES_SAID else ""
        yield f"Pins along the finished top of a panel {say(width)} wide: {len(places)}, from one side {where}{on}."
