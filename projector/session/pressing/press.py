"""One key pressed: the next session, and what must be recorded before it is shown. Pure."""

from __future__ import annotations

import math
from dataclasses import replace

from projector.session.actions import Action
from projector.session.facing.press import ask, press_which_way
from projector.session.laying.press import PAGES as LAYING_PAGES
from projector.session.laying.press import press_laying, start_laying
from projector.session.pressing.adjusting import adjust
from projector.session.pressing.meeting_press import PAGES, press_meeting
from projector.session.pressing.ticking import CUTTING_S, cut_done, next_cut, next_stop, tick
from projector.session.pressing.undoing import undo, untick
from projector.session.saying.why_not import why_not
from projector.session.state.events import Event, Left, PlanAsBefore
from projector.session.state.pages import Page
from projector.session.state.state import Session
from projector.session.state.told import hidden_said

DELIBERATE_S = 0.7
"""A press counts as deliberate when no key was pressed for this long and the light was there to be read.
A bouncing pedal, a held key or a double press is quicker."""

Outcome = tuple[Session, tuple[Event, ...]]


def press(session: Session, action: Action, quiet_s: float = math.inf) -> Outcome:
    """What one request does. ``quiet_s``: seconds since the light last changed or a key was last pressed.

    Nothing happens in the dark or on the bench screen: any key only brings the light back. Pages of words are closed
    by any key. Before a stop of a turned panel is lit, it is asked which way the panel lies.
    """
    after, events = _press(session, action, quiet_s)
    if not events and not after.told and is_as_before(session, after):
        after = replace(after, told=why_not(after, action))
    if after.page is not Page.STOP:
        return after, events
    if after.ask_again and session.page is not Page.STOP:
        return start_laying(replace(after, ask_again=False)), events
    if session.page is not Page.STOP and not after.told:
        after = replace(after, told=hidden_said(after.hidden))
    return (ask(after) if after.way_is_open else after), events


def is_as_before(was: Session, now: Session) -> bool:
    """Whether a press has changed nothing that anybody asked for."""
    return replace(now, told="") == replace(was, told="", just_ticked=False, fresh_tick=now.fresh_tick)


def _press(session: Session, action: Action, quiet_s: float) -> Outcome:
    fresh = session.fresh_tick and action is Action.PREVIOUS_STOP
    was, session = session, replace(session, just_ticked=False, told="", fresh_tick=fresh)
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
    if session.page is Page.WHICH_WAY:
        outcome = press_which_way(session, action, quiet_s)
        if outcome is not None:
            return outcome
    if session.page in _WORDS:
        return _at_words(session, action, quiet_s)
    return _at_stop(session, action, too_soon=was.just_ticked and quiet_s < CUTTING_S)


_WORDS = frozenset(
    (
        Page.CAUTIONS,
        Page.HELP,
        Page.LEGEND,
        Page.REMAINING,
        Page.TROUBLE,
        Page.LEAVE,
        Page.PLAN_AS_BEFORE,
        Page.IS_IT_CUT,
        Page.NOT_CUT,
        Page.ALL_DONE,
    )
)


def _at_words(session: Session, action: Action, quiet_s: float) -> Outcome:
    """A page of words is lit: answered, closed, or left for what the key means at a stop."""
    deliberate = quiet_s >= DELIBERATE_S
    match session.page:
        case Page.CAUTIONS if action is not Action.LEAVE:
            return home(replace(session, cautions_read=True)), ()
        case Page.HELP | Page.LEGEND | Page.REMAINING | Page.TROUBLE:
            return home(replace(session, trouble="")), ()
        case Page.LEAVE:
            return _leaving(session, action, deliberate=deliberate)
        case Page.PLAN_AS_BEFORE:
            return _as_before(session, action, deliberate=deliberate)
        case Page.IS_IT_CUT if action in (Action.NEXT_STOP, Action.CUT_DONE):
            return tick(session) if deliberate else (session, ())
        case Page.IS_IT_CUT if action in (Action.PREVIOUS_STOP, Action.UNDO, Action.ANY_OTHER):
            return replace(session, page=Page.STOP), ()
        case Page.NOT_CUT if action is Action.PREVIOUS_STOP:
            return untick(session) if deliberate else (session, ())
        case Page.NOT_CUT:
            return replace(session, page=Page.STOP), ()
        case Page.ALL_DONE if action is Action.NEXT_STOP:
            return replace(session, page=Page.LEAVE), ()
        case Page.ALL_DONE if action is Action.PREVIOUS_STOP:
            return replace(session, page=Page.STOP), ()
        case Page.ALL_DONE if action is Action.CUT_DONE:
            return session, ()
    return _at_stop(session, action, too_soon=True)


def pulled(session: Session) -> Session:
    """The cloth lies as the light asks, says the person."""
    told = "the cloth lies here now" if session.cloth_is_to_move else "the cloth is not to be pulled now"
    return replace(session, page=Page.STOP, lies_at=session.at, told=told)


def in_trouble(session: Session, words: str) -> Session:
    """The same session, saying what went wrong until any key."""
    return replace(session, page=Page.TROUBLE, trouble=words, dark=False)


def home(session: Session) -> Session:
    """Back to where work goes on once a page of words is closed."""
    if not session.cautions_read:
        return replace(session, page=Page.CAUTIONS)
    if session.meeting is not None and not session.meeting.over:
        return replace(session, page=Page.MEETING)
    if session.marking is not None:
        return replace(session, page=Page.LAYING)
    return replace(session, page=Page.STOP if session.left_to_cut else Page.ALL_DONE)


def _leaving(session: Session, action: Action, *, deliberate: bool) -> Outcome:
    by_remote = action is Action.NEXT_STOP and not session.left_to_cut and deliberate
    if by_remote or action in (Action.LEAVE, Action.CUT_DONE):
        return replace(session, page=Page.LEFT), (Left(),)
    if action is Action.NEXT_STOP and not session.left_to_cut:
        return session, ()
    return home(session), ()


def _as_before(session: Session, action: Action, *, deliberate: bool) -> Outcome:
    """The plan made anew is taken back by a second, deliberate press of undo; by any other key it stays."""
    if action is not Action.UNDO:
        return home(session), ()
    if not deliberate:
        return session, ()
    return replace(session, page=Page.LEFT, as_before=True), (PlanAsBefore(), Left())


def _at_stop(session: Session, action: Action, *, too_soon: bool) -> Outcome:
    match action:
        case Action.NEXT_STOP:
            return next_stop(session), ()
        case Action.PREVIOUS_STOP if session.may_untick and session.page is Page.STOP:
            return replace(session, page=Page.NOT_CUT, fresh_tick=False), ()
        case Action.PREVIOUS_STOP:
            return replace(session, at=max(session.at - 1, 0), page=Page.STOP), ()
        case Action.NEXT_CUT:
            return next_cut(session), ()
        case Action.CUT_DONE:
            return cut_done(session, too_soon=too_soon)
        case Action.UNDO:
            return undo(session)
        case Action.LEAVE:
            return replace(session, page=Page.LEAVE), ()
        case Action.PULLED:
            return pulled(session), ()
        case Action.LAY:
            return start_laying(session), ()
        case Action.HELP:
            return replace(session, page=Page.HELP), ()
        case Action.LEGEND:
            return replace(session, page=Page.LEGEND), ()
        case Action.REMAINING:
            return replace(session, page=Page.REMAINING), ()
    return adjust(session, action), ()
