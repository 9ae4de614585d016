"""Why a key on the help page does nothing now, in a few words: a key without an answer looks broken."""

from __future__ import annotations

from projector.session.actions import Action
from projector.session.state.pages import Page
from projector.session.state.state import Session

ANSWERED = frozenset((Page.STOP, Page.LAYING, Page.LAID, Page.WHICH_WAY, Page.IS_IT_CUT))
"""Pages on which there is room to say it; on the others any key answers, or closes them."""
LAYING = frozenset((Page.LAYING, Page.LAID))
AGAIN = frozenset((Action.NEXT_STOP, Action.CUT_DONE))


def why_not(session: Session, action: Action) -> str:
    """What is said where a request has changed nothing; empty where nothing was asked for."""
    if action is Action.ANY_OTHER or session.page not in ANSWERED:
        return ""
    if action is Action.REPLAN:
        return no_planning_anew(session)
    if session.page is not Page.STOP:
        return _elsewhere(session.page, action)
    match action:
        case Action.CUT_DONE:
            return "this cut is done already"
        case Action.NEXT_CUT:
            return "no other cut is to do"
        case Action.PREVIOUS_STOP:
            return "this is the first stop"
        case Action.LIGHT_BACK:
            return "the light lies where it should"
        case Action.WIDER:
            return "lines are as wide as they get"
        case Action.THINNER:
            return "lines are as thin as they get"
    return ""


def no_planning_anew(session: Session) -> str:
    """Why the plan is not made anew now."""
    if not any(session.lattices):
        return "not planned anew: this cloth has no print to measure"
    if session.done:
        return "not planned anew: a cut is made already"
    if not session.may_replan:
        return "not planned anew: that is for a real table"
    if session.page is Page.LAID:
        return "not planned anew: the repeat is as planned, or not yet measured for sure"
    return "not planned anew: first lay the cloth by its print, so that the repeat is measured"


def _elsewhere(page: Page, action: Action) -> str:
    if action in AGAIN:
        return "too quick: look, wait a second, then press again"
    return f"not now ({action}): {'finish laying the cloth' if page in LAYING else 'answer this'} first"
