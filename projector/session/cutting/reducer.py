"""What one action makes of a session, and what must be recorded before that is shown. Pure."""

from __future__ import annotations

import math
from dataclasses import replace

from projector.session.actions import Action
from projector.session.cutting.journal import Corrected, Event, PlanAsBefore, WayConfirmed
from projector.session.cutting.light import adjusted
from projector.session.cutting.orientation import Confirmed
from projector.session.cutting.pages import Page
from projector.session.cutting.registering import PAGES as REGISTERING_PAGES
from projector.session.cutting.registering import press_marking, start_marking, start_photograph
from projector.session.cutting.startup_check import PAGES as CHECK_PAGES
from projector.session.cutting.startup_check import StartupCheck, press_startup_check, startup_check_of
from projector.session.cutting.state import Session
from projector.session.cutting.status import adjusted_status, hidden_status, why_not
from projector.session.cutting.ticking import CUTTING_S, cut_done, next_cut, next_stop, tick, undo, untick

DELIBERATE_S = 0.7
"""A press counts as deliberate when no key was pressed for this long and the light was there to be read.
A bouncing pedal, a held key or a double press is quicker."""
MEASURE = "Measure a lit length with a tape before you cut on."

Outcome = tuple[Session, tuple[Event, ...]]


def press(session: Session, action: Action, quiet_s: float = math.inf) -> Outcome:
    """What one action does. ``quiet_s``: seconds since the light last changed or something was last asked for.

    Nothing happens in the dark: any key only brings the light back. Pages of words are closed by any key. Before a stop
    of a turned panel is lit, it is asked which way the panel lies.
    """
    after, events = _press(session, action, quiet_s)
    if not events and not after.status and is_as_before(session, after):
        after = replace(after, status=why_not(after, action))
    if after.page is not Page.STOP:
        return after, events
    if after.ask_again and session.page is not Page.STOP:
        return start_marking(replace(after, ask_again=False)), events
    if session.page is not Page.STOP and not after.status:
        after = replace(after, status=hidden_status(after.light))
    return (replace(after, page=Page.ORIENTATION, answered=0) if after.way_is_open else after), events


def is_as_before(was: Session, now: Session) -> bool:
    """Whether an action has changed nothing that anybody asked for."""
    return replace(now, status="") == replace(was, status="", just_ticked=False, fresh_tick=now.fresh_tick)


def in_trouble(session: Session, words: str) -> Session:
    """The same session, saying what went wrong until any key."""
    return replace(session, page=Page.TROUBLE, trouble=words, dark=False)


def interrupted(session: Session, why: str) -> Session:
    """The session with the quick check by two marks ahead of it, told why; words alone where nothing can be checked.

    Motif points in hand are let go, for they may lie elsewhere now; where the cloth was registered, one point is asked
    for again.
    """
    if session.page is Page.LEFT:
        return session
    check = startup_check_of(session.setup.bare, (why,)) if session.setup.bare else None
    registered = session.fit is not None and bool(session.left_to_cut)
    still = replace(session, marking=None, ask_again=session.ask_again or registered)
    if check is None:
        # Somebody may be leaning under the lens: what was dark stays dark.
        return replace(in_trouble(replace(still, page=Page.STOP), f"{why}\n{MEASURE}"), dark=session.dark)
    if not session.cautions_read:
        return replace(still, check=check)
    return replace(still, check=check, page=Page.STARTUP_CHECK)


def _press(session: Session, action: Action, quiet_s: float) -> Outcome:
    fresh = session.fresh_tick and action is Action.PREVIOUS_STOP
    was, session = session, replace(session, just_ticked=False, status="", fresh_tick=fresh)
    if session.page is Page.LEFT:
        return session, ()
    if session.dark or action is Action.DARK:
        return replace(session, dark=not session.dark), ()
    outcome = None
    if session.page in CHECK_PAGES and session.check is not None:
        outcome = _checking(session, session.check, action)
    elif session.page in REGISTERING_PAGES:
        outcome = press_marking(session, action, quiet_s)
    elif session.page is Page.ORIENTATION:
        outcome = _questioned(session, action, quiet_s)
    elif session.page is not Page.STOP:
        outcome = _at_words(session, action, deliberate=quiet_s >= DELIBERATE_S)
    if outcome is not None:
        return outcome
    at_words = session.page not in (Page.STOP, Page.ORIENTATION, *CHECK_PAGES)
    return _at_stop(session, action, too_soon=at_words or (was.just_ticked and quiet_s < CUTTING_S))


def _checking(session: Session, check: StartupCheck, action: Action) -> Outcome | None:
    """An action on the pages of the check whether anything has moved."""
    outcome = press_startup_check(session.page, check, action)
    if outcome is None:
        return None
    page, check, move = outcome
    if page is not None:
        return replace(session, page=page, check=check), ()
    work = Page.MARKING if session.marking else Page.STOP if session.left_to_cut else Page.ALL_DONE
    over = replace(session, page=work, check=replace(check, over=True))
    if move is None:
        return over, ()
    return replace(over, setup=session.setup.corrected(move)), (Corrected(move),)


ELSEWHERE = frozenset(
    (
        Action.NEXT_CUT,
        Action.UNDO,
        Action.LEAVE,
        Action.LAY,
        Action.PHOTOGRAPH,
        Action.HELP,
        Action.LEGEND,
        Action.REMAINING,
        Action.PREVIOUS_STOP,
    )
)
"""What means at the questions about a turned panel what it means at a stop; nothing of it ticks a cut."""


def _questioned(session: Session, action: Action, quiet_s: float) -> Outcome | None:
    """An action while it is asked which way a turned panel lies; None where it means what it means at a stop.

    Each question takes a press of its own, so that a slip answers one at most, and none before it could be read.
    """
    if action in (Action.NEXT_STOP, Action.CUT_DONE):
        return _answered(session) if quiet_s >= DELIBERATE_S else (session, ())
    if action in (Action.PREVIOUS_STOP, Action.UNDO) and session.answered:
        return replace(session, answered=session.answered - 1), ()
    if action is Action.PREVIOUS_STOP and session.at == 0:
        return session, ()
    return None if action in ELSEWHERE else (session, ())


def _answered(session: Session) -> Outcome:
    answered = session.answered + 1
    if answered < len(session.questions):
        return replace(session, answered=answered), ()
    cut = session.placement.cut.id
    way = Confirmed(cut, len(session.done), len(session.registered))
    return replace(session, ways=(*session.ways, way), answered=0, page=Page.STOP), (WayConfirmed(cut),)


def _at_words(session: Session, action: Action, *, deliberate: bool) -> Outcome | None:
    """A page of words is lit: answered or closed; None where the action means what it means at a stop."""
    match session.page:
        case Page.CAUTIONS if action is not Action.LEAVE:
            return _home(replace(session, cautions_read=True)), ()
        case Page.HELP | Page.LEGEND | Page.REMAINING | Page.TROUBLE:
            return _home(replace(session, trouble="")), ()
        case Page.LEAVE:
            return _leaving(session, action, deliberate=deliberate)
        case Page.PLAN_AS_BEFORE if action is not Action.UNDO:
            return _home(session), ()
        case Page.PLAN_AS_BEFORE:
            left = replace(session, page=Page.LEFT, as_before=True)
            return (left, (PlanAsBefore(),)) if deliberate else (session, ())
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
    return None


def _home(session: Session) -> Session:
    """Back to where work goes on once a page of words is closed."""
    if not session.cautions_read:
        return replace(session, page=Page.CAUTIONS)
    if session.check is not None and not session.check.over:
        return replace(session, page=Page.STARTUP_CHECK)
    if session.marking is not None:
        return replace(session, page=Page.REGISTRATION if session.marking.photographed else Page.MARKING)
    return replace(session, page=Page.STOP if session.left_to_cut else Page.ALL_DONE)


def _leaving(session: Session, action: Action, *, deliberate: bool) -> Outcome:
    by_remote = action is Action.NEXT_STOP and not session.left_to_cut
    if action in (Action.LEAVE, Action.CUT_DONE) or (by_remote and deliberate):
        return replace(session, page=Page.LEFT), ()
    return (session if by_remote else _home(session)), ()


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
            status = "the cloth lies here now" if session.cloth_is_to_move else "the cloth is not to be pulled now"
            return replace(session, page=Page.STOP, lies_at=session.at, status=status), ()
        case Action.LAY:
            return start_marking(session), ()
        case Action.PHOTOGRAPH:
            return start_photograph(session), ()
        case Action.HELP:
            return replace(session, page=Page.HELP), ()
        case Action.LEGEND:
            return replace(session, page=Page.LEGEND), ()
        case Action.REMAINING:
            return replace(session, page=Page.REMAINING), ()
    light, what = adjusted(session.light, action)
    if light == session.light:
        return session, ()
    return replace(session.with_light(light, what), status=adjusted_status(session, light, action)), ()
