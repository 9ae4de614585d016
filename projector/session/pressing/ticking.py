"""From stop to stop and cut to cut, and the tick that a cut is done. Pure."""

from __future__ import annotations

from dataclasses import replace

from projector.session.laying.press import moved_by_hand
from projector.session.state.events import Done, Event
from projector.session.state.pages import Layer, Page
from projector.session.state.state import Session, first_stop_of
from projector.session.state.told import ticked_said

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
    sure = session.shows_last_edge and session.is_expected and Layer.CUT_LINES not in session.hidden
    if sure and not too_soon:
        return tick(session)
    return replace(session, page=Page.IS_IT_CUT), ()


def tick(session: Session) -> Outcome:
    """The lit cut is done; on to the next."""
    cut = session.placement.cut.id
    ticked = replace(
        session.moved_on,
        done=(*session.done, cut),
        ticked_at=(*session.ticked_at, session.at),
        cut_by=(*session.cut_by, moved_by_hand(session)),
        just_ticked=True,
        fresh_tick=True,
    )
    onward = next_cut(ticked) if ticked.left_to_cut else replace(ticked, page=Page.ALL_DONE)
    following = onward.placement.cut if ticked.left_to_cut else None
    return replace(onward, told=ticked_said(session.placement.cut, following)), (Done(cut),)
