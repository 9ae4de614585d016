"""How a session begins, anew or where an earlier one ended."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.model.plan import Plan
from projector.scene.marks import Point
from projector.session.state.confirmed import Confirmed
from projector.session.state.laid import Laid, last_on, lattices_of
from projector.session.state.meeting import Meeting
from projector.session.state.motion import middle_of
from projector.session.state.pages import Layer
from projector.session.state.state import Session, first_stop_of, last_stop_of
from projector.session.state.steps import Light


class NoStopsError(ValueError):
    """The plan has no stops, so there is no session."""


class ForeignCutsError(ValueError):
    """Cuts were ticked that the plan does not have: the job was changed since. ``cuts`` names them."""

    def __init__(self, cuts: tuple[str, ...]) -> None:
        super().__init__(", ".join(cuts))
        self.cuts = cuts


def begin(
    plan: Plan,
    done: Iterable[str] = (),
    meeting: Meeting | None = None,
    layings: tuple[Laid, ...] = (),
    area: tuple[Point, ...] = (),
    *,
    ways: tuple[Confirmed, ...] = (),
    light: Light | None = None,
    may_replan: bool = False,
    made_anew: bool = False,
) -> Session:
    """A session at the first stop of the first cut that is not done, after a check whether anything has moved.

    ``area`` is the convex part of the table that is surely lit, ``light`` how the light was set before; cut lines are
    never left dark from one session to the next.
    Raises ``NoStopsError`` when the plan has no stops, ``ForeignCutsError`` when it lacks cuts that ``done`` names.
    """
    stops, ticked, light = plan.stops, tuple(done), light or Light()
    if not stops:
        raise NoStopsError
    known = {stop.placement.cut.id for stop in stops}
    foreign = tuple(cut for cut in ticked if cut not in known)
    if foreign:
        raise ForeignCutsError(foreign)
    ticked_at = tuple(last_stop_of(stops, cut) for cut in ticked)
    session = Session(stops=stops, done=ticked, ticked_at=ticked_at)
    left = session.left_to_cut
    at = first_stop_of(stops, left[0].cut.id) if left else len(stops) - 1
    # Where work goes on nobody knows whether the cloth was pulled since the last tick.
    lies_at = None if ticked and left else at
    return Session(
        stops=stops,
        at=at,
        lies_at=lies_at,
        done=ticked,
        ticked_at=ticked_at,
        cut_by=(None,) * len(ticked),
        meeting=meeting,
        lattices=lattices_of(plan),
        layings=layings,
        laid_before=len(layings),
        ask_again=bool(left) and last_on(layings, left[0].piece) is not None,
        about=middle_of(area),
        area=area,
        may_replan=may_replan,
        made_anew=made_anew,
        ways=tuple(way for way in ways if way.cut in known),
        hidden=light.hidden - {Layer.CUT_LINES},
        width_step=light.width_step,
        colour=light.colour,
    )
