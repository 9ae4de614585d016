"""Take back the last thing done, whatever it was, and say what it was. Pure."""

from __future__ import annotations

from dataclasses import replace

from projector.scene.labels import name_of
from projector.session.state.events import Event, Undone, UnlaidEvent, WayReopened
from projector.session.state.pages import Page
from projector.session.state.state import Session, first_stop_of
from projector.session.state.told import nothing_to_take_back, taken_back

Outcome = tuple[Session, tuple[Event, ...]]


def undo(session: Session) -> Outcome:
    """The session before the last thing done: the light changed, a way confirmed, the cloth laid, a cut ticked.

    With nothing of these left and a plan made anew at the table, it is asked whether that is to be taken back.
    """
    now = session.moment
    if session.steps and session.steps[-1].moment.is_not_before(now):
        return _light_before(session), ()
    if session.ways and session.ways[-1].ticks >= now.ticks and session.ways[-1].layings >= now.layings:
        return _reopened(session)
    if session.layings and session.layings[-1].ticks >= now.ticks:
        return _unlaid(session)
    if session.done:
        return untick(session)
    if session.made_anew:
        return replace(session, page=Page.PLAN_AS_BEFORE), ()
    return replace(session, page=Page.STOP, told=nothing_to_take_back()), ()


def _light_before(session: Session) -> Session:
    *steps, last = session.steps
    light = last.before
    return replace(
        session,
        page=Page.STOP,
        steps=tuple(steps),
        motion=light.motion,
        hidden=light.hidden,
        width_step=light.width_step,
        colour=light.colour,
        told=taken_back(last.what),
    )


def _reopened(session: Session) -> Outcome:
    last = session.ways[-1]
    at = first_stop_of(session.stops, last.cut)
    back = replace(session, ways=session.ways[:-1], at=at, page=Page.STOP, told=taken_back("which way the panel lies"))
    return back, (WayReopened(last.cut),)


def _unlaid(session: Session) -> Outcome:
    """The last laying taken back; the light is as it was before it, at the stop where it was made."""
    last, layings = session.layings[-1], session.layings[:-1]
    at = next((at for at, stop in enumerate(session.stops) if last.is_for(stop)), session.at)
    before = min(session.laid_before, len(layings))
    back = replace(session, layings=layings, laid_before=before, at=at, page=Page.STOP, motion=last.motion_before)
    return replace(back, told=taken_back("how the cloth was laid")), (UnlaidEvent(last.cut),)


def untick(session: Session) -> Outcome:
    """The last tick taken back, at the stop where it was made."""
    *done, cut = session.done
    *ticked_at, at = session.ticked_at
    back = replace(
        session,
        done=tuple(done),
        ticked_at=tuple(ticked_at),
        cut_by=session.cut_by[:-1],
        at=at,
        page=Page.STOP,
        told=taken_back(f"the tick of {name_of(session.cut_of(cut))}"),
    )
    return back, (Undone(cut),)
