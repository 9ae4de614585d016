"""What the light asks, in one short line for the bench screen: few enough letters to be read from two metres."""

from __future__ import annotations

from jobs.model.numbers import counted
from projector.session.actions import Action
from projector.session.cutting.pages import Page
from projector.session.cutting.pictures import BAD, GOOD, LIT
from projector.session.cutting.state import Session
from projector.session.keys import Keys, spoken

LONGEST = 40
"""Longer lines would be made too small to be read from where the person stands."""


def asked_of(session: Session, keys: Keys) -> tuple[str, str] | None:
    """The line and its colour; None at a stop, where the bench screen has its own."""
    if session.dark:
        return "dark: any key brings the light back", LIT
    match session.page:
        case Page.STOP if session.cut_lines_are_dark and not session.cut_is_done:
            return _short(f"CUT LINES ARE DARK: {spoken(Action.CUT_LINES, keys)} lights them"), BAD
        case Page.CAUTIONS:
            return "read what the light says, then go on", LIT
        case Page.STARTUP_CHECK:
            return "do both crosses meet their tape?", LIT
        case Page.MOVING if session.check is not None:
            return f"move the light onto mark {session.check.numbers[session.check.at]}", LIT
        case Page.MOVED:
            return "read on the table how it has moved", LIT
        case Page.MARKING if session.marking is not None:
            count = len(session.marking.points)
            return f"mark motif points: {count} so far", LIT
        case Page.REGISTRATION:
            return "the print is found: keep it?", LIT
        case Page.ORIENTATION:
            return f"{session.questions[session.answered].value}? look at the table", LIT
        case Page.NOT_CUT:
            return _short(f"not cut? {spoken(Action.PREVIOUS_STOP, keys)} again: untick"), LIT
        case Page.PLAN_AS_BEFORE:
            return _short(f"plan as before? {spoken(Action.UNDO, keys)} again: yes"), LIT
        case Page.IS_IT_CUT:
            return _short(f"IS IT CUT? {spoken(Action.NEXT_STOP, keys)} again ticks it"), LIT
        case Page.HELP:
            return "the keys are lit on the table", LIT
        case Page.LEGEND:
            return "what the lines mean is lit on the table", LIT
        case Page.REMAINING:
            return f"{counted(len(session.left_to_cut), 'cut')} to do", LIT
        case Page.TROUBLE:
            return _short(f"STOP: {session.trouble.splitlines()[0]}" if session.trouble else "STOP"), BAD
        case Page.ALL_DONE:
            return "all cuts are done", GOOD
        case Page.LEAVE:
            left = len(session.left_to_cut)
            return (f"leave? {counted(left, 'cut')} to do" if left else "leave? all is cut"), LIT
    return None


def _short(text: str) -> str:
    return text if len(text) <= LONGEST else text[: LONGEST - 3].rstrip() + "..."
