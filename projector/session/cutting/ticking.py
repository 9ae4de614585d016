"""From stop to stop and cut to cut, the tick that a cut is done, and the last thing taken back. Pure."""

from __future__ import annotations

from dataclasses import replace

from projector.scene.labels import name_of
from projector.session.cutting.journal import Done, Event, RegistrationUndone, Undone, WayReopened
from projector.session.cutting.pages import Page
from projector.session.cutting.state import Session, first_stop_of
from projector.session.cutting.status import NOTHING_TO_TAKE_BACK, taken_back, ticked

CUTTING_S = 3.0
"""No cut is made sooner after the last one was ticked: a second tick within that time is asked about."""

Outcome = tuple[Session, tuple[Event, ...]]


def next_stop(session: Session) -> Session:
    """The stop after the lit one; the question whether it is cut after the last one of a cut."""
    if session.is_last_stop_of_cut and not session.cut_is_done:
        return replace(session, page=Page.IS_IT_CUT)
    if session.at + 1 < len(session.stops):
        return replace(session.moved_on, at=session.at + 1, page=Page.STOP)
    return next_cut(session) if session.left_to_cut else replace(session, page=Page.ALL_DONE)


def next_cut(session: Session) -> Session:
    """The first stop of the next cut that is not done, beginning again from the first after the last."""
    here = session.placement.cut.id
    firsts = [first_stop_of(session.stops, left.cut.id) for left in session.left_to_cut if left.cut.id != here]
    if not firsts:
        return session
    later = [at for at in firsts if at > session.at]
    return replace(session.moved_on, at=(later or firsts)[0], page=Page.STOP)


def cut_done(session: Session, *, too_soon: bool) -> Outcome:
    """The lit cut is said to be done: ticked at once where that is expected and its last edge lit, else asked about."""
    if session.cut_is_done:
        return session, ()
    if session.stop.shows_last_edge and session.is_expected and not session.cut_lines_are_dark and not too_soon:
        return tick(session)
    return replace(session, page=Page.IS_IT_CUT), ()


def tick(session: Session) -> Outcome:
    """The lit cut is done; on to the next."""
    cut = session.placement.cut
    done = replace(
        session.moved_on,
        done=(*session.done, cut.id),
        ticked_at=(*session.ticked_at, session.at),
        cut_by=(*session.cut_by, session.fit_by_hand),
        just_ticked=True,
        fresh_tick=True,
    )
    onward = next_cut(done) if done.left_to_cut else replace(done, page=Page.ALL_DONE)
    following = onward.placement.cut if done.left_to_cut else None
    return replace(onward, status=ticked(cut, following)), (Done(cut.id),)


def untick(session: Session) -> Outcome:
    """The last tick taken back, at the stop where it was made."""
    cut = session.done[-1]
    back = replace(
        session,
        done=session.done[:-1],
        ticked_at=session.ticked_at[:-1],
        cut_by=session.cut_by[:-1],
        at=session.ticked_at[-1],
        page=Page.STOP,
        status=taken_back(f"the tick of {name_of(session.cut_of(cut))}"),
    )
    return back, (Undone(cut),)


def undo(session: Session) -> Outcome:
    """The session before the last thing done: the light changed, a way confirmed, the cloth registered, a cut ticked.

    With nothing of these left and a plan made anew at the table, it is asked whether that is to be taken back.
    """
    now = session.moment
    if session.steps and session.steps[-1].moment.is_not_before(now):
        *steps, last = session.steps
        before = replace(session, page=Page.STOP, steps=tuple(steps), light=last.before)
        return replace(before, status=taken_back(last.what)), ()
    if session.ways and session.ways[-1].ticks >= now.ticks and session.ways[-1].registered >= now.registered:
        return _reopened(session)
    if session.registered and session.registered[-1].ticks >= now.ticks:
        return _unregistered(session)
    if session.done:
        return untick(session)
    if session.made_anew:
        return replace(session, page=Page.PLAN_AS_BEFORE), ()
    return replace(session, page=Page.STOP, status=NOTHING_TO_TAKE_BACK), ()


def _reopened(session: Session) -> Outcome:
    last = session.ways[-1]
    at, status = first_stop_of(session.stops, last.cut), taken_back("which way the panel lies")
    back = replace(session, ways=session.ways[:-1], at=at, page=Page.STOP, status=status)
    return back, (WayReopened(last.cut),)


def _unregistered(session: Session) -> Outcome:
    """The last registration taken back; the light is as it was before it, at the stop where it was made."""
    last, kept = session.registered[-1], session.registered[:-1]
    back = replace(
        session.with_motion(last.motion_before),
        registered=kept,
        registered_before=min(session.registered_before, len(kept)),
        at=next((at for at, stop in enumerate(session.stops) if last.is_for(stop)), session.at),
        page=Page.STOP,
        status=taken_back("how the cloth was laid"),
    )
    return back, (RegistrationUndone(last.cut),)
