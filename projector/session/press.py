"""One key pressed: the next session, and what must be recorded before it is shown. Pure."""

from __future__ import annotations

import math
from dataclasses import replace

from projector.session.actions import NUDGES_64THS, TURNS, Action
from projector.session.laying.press import PAGES as LAYING_PAGES
from projector.session.laying.press import moved_by_hand, press_laying, start_laying
from projector.session.meeting_press import PAGES, press_meeting
from projector.session.motion import Motion
from projector.session.state import Done, Event, Layer, Left, Page, Session, Undone, UnlaidEvent, first_stop_of

DELIBERATE_S = 0.7
"""A press counts as deliberate when no key was pressed for this long and the light was there to be read.
A bouncing pedal, a held key or a double press is quicker."""

THINNEST, WIDEST = -4, 8

Outcome = tuple[Session, tuple[Event, ...]]

LAYERS = {
    Action.ROWS: Layer.ROWS,
    Action.MATCH_MARKS: Layer.MATCH_MARKS,
    Action.FOLDS: Layer.FOLDS,
    Action.LETTERS: Layer.LETTERS,
}


def press(session: Session, action: Action, quiet_s: float = math.inf) -> Outcome:
    """What one request does. ``quiet_s``: seconds since the light last changed or a key was last pressed.

    Nothing happens in the dark or on the bench screen: any key only brings the light back. Pages of words are closed
    by any key.
    """
    outcome = _press(session, action, quiet_s)
    after, events = outcome
    if after.ask_again and after.page is Page.STOP and session.page is not Page.STOP:
        return start_laying(replace(after, ask_again=False)), events
    return outcome


def _press(session: Session, action: Action, quiet_s: float) -> Outcome:
    was, session = session, replace(session, just_ticked=False, just_pulled=False)
    if session.page is Page.LEFT:
        return session, ()
    if session.dark or action is Action.DARK:
        return replace(session, dark=not session.dark), ()
    if session.on_bench or action is Action.BENCH:
        return replace(session, on_bench=not session.on_bench), ()
    if session.page in PAGES:
        outcome = press_meeting(session, action)
        if outcome is not None:
            return outcome
    if session.page in LAYING_PAGES:
        return press_laying(session, action, quiet_s)
    match session.page:
        case Page.CAUTIONS if action is not Action.LEAVE:
            return _home(replace(session, cautions_read=True)), ()
        case Page.HELP if session.marking is not None:
            return replace(session, page=Page.LAYING), ()
        case Page.HELP | Page.REMAINING | Page.TROUBLE:
            return _home(replace(session, trouble="")), ()
        case Page.LEAVE:
            return _leaving(session, action, quiet_s)
        case Page.IS_IT_CUT if action in (Action.NEXT_STOP, Action.CUT_DONE):
            return _tick(session) if quiet_s >= DELIBERATE_S else (session, ())
        case Page.IS_IT_CUT if action in (Action.PREVIOUS_STOP, Action.ANY_OTHER):
            return replace(session, page=Page.STOP), ()
        case Page.ALL_DONE if action is Action.NEXT_STOP:
            return replace(session, page=Page.LEAVE), ()
        case Page.ALL_DONE if action is Action.PREVIOUS_STOP:
            return replace(session, page=Page.STOP), ()
        case Page.ALL_DONE if action is Action.CUT_DONE:
            return session, ()
    return _at_stop(session, action, bounced=was.just_ticked and quiet_s < DELIBERATE_S)


def in_trouble(session: Session, words: str) -> Session:
    """The same session, saying what went wrong until any key."""
    return replace(session, page=Page.TROUBLE, trouble=words, dark=False)


def _home(session: Session) -> Session:
    """Back to where work goes on once a page of words is closed."""
    if not session.cautions_read:
        return replace(session, page=Page.CAUTIONS)
    if session.meeting is not None and not session.meeting.over:
        return replace(session, page=Page.MEETING)
    return replace(session, page=Page.STOP if session.left_to_cut else Page.ALL_DONE)


def _leaving(session: Session, action: Action, quiet_s: float) -> Outcome:
    by_remote = action is Action.NEXT_STOP and not session.left_to_cut and quiet_s >= DELIBERATE_S
    if by_remote or action in (Action.LEAVE, Action.CUT_DONE):
        return replace(session, page=Page.LEFT), (Left(),)
    if action is Action.NEXT_STOP and not session.left_to_cut:
        return session, ()
    return _home(session), ()


def _at_stop(session: Session, action: Action, bounced: bool) -> Outcome:
    match action:
        case Action.NEXT_STOP:
            return _next_stop(session), ()
        case Action.PREVIOUS_STOP:
            return replace(session, at=max(session.at - 1, 0), page=Page.STOP), ()
        case Action.NEXT_CUT:
            return _next_cut(session), ()
        case Action.CUT_DONE:
            return _cut_done(session, bounced)
        case Action.UNDO:
            return _undo(session)
        case Action.LEAVE:
            return replace(session, page=Page.LEAVE), ()
        case Action.LAY:
            return start_laying(session), ()
        case Action.HELP:
            return replace(session, page=Page.HELP), ()
        case Action.REMAINING:
            return replace(session, page=Page.REMAINING), ()
    return _adjust(session, action), ()


def _next_stop(session: Session) -> Session:
    if session.is_last_stop_of_cut and not session.cut_is_done:
        return replace(session, page=Page.IS_IT_CUT)
    if session.at + 1 < len(session.stops):
        return replace(session, at=session.at + 1, page=Page.STOP, just_pulled=session.same_cut_goes_on)
    return _next_cut(session) if session.left_to_cut else replace(session, page=Page.ALL_DONE)


def _next_cut(session: Session) -> Session:
    """The first stop of the next cut that is not done, beginning again from the first after the last."""
    here = session.placement.cut.id
    firsts = [first_stop_of(session.stops, left.cut.id) for left in session.left_to_cut if left.cut.id != here]
    if not firsts:
        return session
    later = [at for at in firsts if at > session.at]
    return replace(session, at=(later or firsts)[0], page=Page.STOP)


def _cut_done(session: Session, bounced: bool) -> Outcome:
    if session.cut_is_done:
        return session, ()
    if session.shows_last_edge and session.is_expected and not bounced:
        return _tick(session)
    return replace(session, page=Page.IS_IT_CUT), ()


def _tick(session: Session) -> Outcome:
    cut = session.placement.cut.id
    ticked = replace(
        session,
        done=(*session.done, cut),
        ticked_at=(*session.ticked_at, session.at),
        cut_by=(*session.cut_by, moved_by_hand(session)),
        just_ticked=True,
    )
    onward = _next_cut(ticked) if ticked.left_to_cut else replace(ticked, page=Page.ALL_DONE)
    return onward, (Done(cut),)


def _undo(session: Session) -> Outcome:
    if session.layings and session.layings[-1].ticks >= len(session.done):
        return _unlaid(session)
    if not session.done:
        return replace(session, page=Page.STOP), ()
    *done, cut = session.done
    *ticked_at, at = session.ticked_at
    cut_by = session.cut_by[:-1]
    back = replace(session, done=tuple(done), ticked_at=tuple(ticked_at), cut_by=cut_by, at=at, page=Page.STOP)
    return back, (Undone(cut),)


def _unlaid(session: Session) -> Outcome:
    """The last laying taken back; the light is as it was before it, at the stop where it was made."""
    last, layings = session.layings[-1], session.layings[:-1]
    at = next((at for at, stop in enumerate(session.stops) if last.is_for(stop)), session.at)
    before = min(session.laid_before, len(layings))
    return replace(session, layings=layings, laid_before=before, at=at, page=Page.STOP), (UnlaidEvent(last.cut),)


def _adjust(session: Session, action: Action) -> Session:
    """The light itself: moved, turned, hidden in part, wider, other colours."""
    if action in NUDGES_64THS:
        return replace(session, motion=session.motion.shifted(*NUDGES_64THS[action]))
    if action in TURNS:
        return replace(session, motion=session.motion.turned(TURNS[action]))
    if action in LAYERS:
        return replace(session, hidden=session.hidden ^ {LAYERS[action]})
    match action:
        case Action.LIGHT_BACK:
            return replace(session, motion=Motion())
        case Action.COLOURS:
            return replace(session, colour=session.colour + 1)
        case Action.WIDER:
            return replace(session, width_step=min(session.width_step + 1, WIDEST))
        case Action.THINNER:
            return replace(session, width_step=max(session.width_step - 1, THINNEST))
    return session
