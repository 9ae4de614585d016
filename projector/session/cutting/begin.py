"""How a session begins, anew or where an earlier one ended, and how it is brought to a stop without a person."""

from __future__ import annotations

from dataclasses import field, replace

from calibration.table import Table
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from projector.scene.lit_stretch import reach_across
from projector.session.actions import Action
from projector.session.cutting.journal import not_kept
from projector.session.cutting.light import Layer, Light
from projector.session.cutting.mode import Cutting
from projector.session.cutting.orientation import Confirmed
from projector.session.cutting.pages import Page
from projector.session.cutting.registration.marking import Registered, last_on
from projector.session.cutting.startup_check import StartupCheck
from projector.session.cutting.state import Session, Setup, first_stop_of, last_stop_of, setup_of

PRESSES_A_STOP = 8
"""More than the pages that any stop may ask to be gone through."""
REST_S = 60.0
"""Quiet before each press: nothing counts as a slip."""


@dataclass(frozen=True)
class Before:
    """What an earlier session left: cuts ``done``, how the cloth was ``registered``, ``ways`` confirmed, the ``light``.

    ``made_anew`` tells whether the plan was. ``said`` are sentences to be read in the light before the first cut: what
    the record or the changed job asks for.
    """

    done: tuple[str, ...] = ()
    registered: tuple[Registered, ...] = ()
    ways: tuple[Confirmed, ...] = ()
    light: Light = field(default_factory=Light)
    made_anew: bool = False
    said: tuple[str, ...] = ()


AT_FIRST = Before()


class NoStopsError(ValueError):
    """The plan has no stops, so there is no session."""


class ForeignCutsError(ValueError):
    """Cuts were ticked that the plan does not have: the job was changed since. ``cuts`` names them."""

    def __init__(self, cuts: tuple[str, ...]) -> None:
        super().__init__(", ".join(cuts))
        self.cuts = cuts


def begin(
    setup: Setup, before: Before = AT_FIRST, check: StartupCheck | None = None, *, may_replan: bool = False
) -> Session:
    """A session at the first stop of the first cut that is not done, after a check whether anything has moved.

    Cut lines are never left dark from one session to the next. Raises ``NoStopsError`` when the plan has no stops,
    ``ForeignCutsError`` when it lacks cuts that were done.
    """
    stops = setup.plan.stops
    if not stops:
        raise NoStopsError
    known = {stop.placement.cut.id for stop in stops}
    foreign = tuple(cut for cut in before.done if cut not in known)
    if foreign:
        raise ForeignCutsError(foreign)
    light = before.light
    session = Session(
        replace(setup, bare=check.table) if check else setup,
        done=before.done,
        ticked_at=tuple(last_stop_of(stops, cut) for cut in before.done),
        cut_by=(None,) * len(before.done),
        check=check,
        registered=before.registered,
        registered_before=len(before.registered),
        ways=tuple(way for way in before.ways if way.cut in known),
        light=replace(light, hidden=light.hidden - {Layer.CUT_LINES}),
        may_replan=may_replan,
        made_anew=before.made_anew,
    )
    left = session.left_to_cut
    if not left:
        return replace(session, at=len(stops) - 1, lies_at=len(stops) - 1)
    at = first_stop_of(stops, left[0].cut.id)
    # Where work goes on nobody knows whether the cloth was pulled since the last tick.
    lies_at = None if before.done else at
    return replace(session, at=at, lies_at=lies_at, ask_again=last_on(before.registered, left[0].piece) is not None)


def session_for(plan: Plan, table: Table, before: Before = AT_FIRST) -> Cutting:
    """A session with nothing recorded, light on the cloth by ``table``; ``before`` is what an earlier one left."""
    setup = setup_of(plan, table, lit_width_in=reach_across(plan.job, table.lit_area()))
    return Cutting(begin(setup, before), not_kept)


def arrive(cutting: Cutting, at: int) -> None:
    """Press forward until the stop number ``at``, counted from 0, is lit; the cuts on the way are ticked.

    Raises ValueError when the session lies beyond that stop, or cannot come there.
    """
    for _ in range(PRESSES_A_STOP * (at + 2)):
        session = cutting.state
        if session.page is Page.STOP and session.at >= at:
            break
        cutting.act(Action.NEXT_STOP, REST_S)
    if cutting.state.page is not Page.STOP or cutting.state.at != at:
        raise ValueError(f"forward alone does not lead to stop {at + 1}")
