"""Keys while it is checked whether anything has moved. Pure."""

from __future__ import annotations

from dataclasses import replace

from calibration.moved import Mend
from projector.session.actions import NUDGES_64THS, Action
from projector.session.state.meeting import Meeting
from projector.session.state.state import Corrected, Event, Page, Session

Outcome = tuple[Session, tuple[Event, ...]]

PAGES = frozenset({Page.MEETING, Page.MOVING, Page.MOVED})


def press_meeting(session: Session, action: Action) -> Outcome | None:
    """What one request does on the three pages of the check; None where it means what it means elsewhere.

    Going on is always possible with the key of the next stop alone, so that a remote is enough.
    """
    meeting = session.meeting
    if meeting is None or action in (Action.LEAVE, Action.HELP, Action.LEGEND, Action.REMAINING):
        return None
    match session.page:
        case Page.MEETING:
            return _asked(session, meeting, action), ()
        case Page.MOVING:
            return _moving(session, meeting, action), ()
    return _judged(session, meeting, action)


def closed(session: Session, meeting: Meeting) -> Session:
    """The check is over; work begins."""
    return replace(
        session,
        meeting=replace(meeting, over=True),
        page=Page.LAYING if session.marking else Page.STOP if session.left_to_cut else Page.ALL_DONE,
    )


def _asked(session: Session, meeting: Meeting, action: Action) -> Session:
    if action is Action.NEXT_STOP:
        return closed(session, meeting)
    if action is Action.CUT_DONE:
        return replace(session, page=Page.MOVING)
    if action in NUDGES_64THS:
        return replace(session, page=Page.MOVING, meeting=meeting.nudged(*NUDGES_64THS[action]))
    return session


def _moving(session: Session, meeting: Meeting, action: Action) -> Session:
    if action in NUDGES_64THS:
        return replace(session, meeting=meeting.nudged(*NUDGES_64THS[action]))
    match action:
        case Action.NEXT_STOP | Action.CUT_DONE if meeting.at == 0:
            return replace(session, meeting=replace(meeting, at=1))
        case Action.NEXT_STOP | Action.CUT_DONE:
            return replace(session, page=Page.MOVED, meeting=replace(meeting, count=2))
        case Action.NEXT_CUT:
            return replace(session, page=Page.MOVED, meeting=replace(meeting, count=1))
        case Action.PREVIOUS_STOP if meeting.at == 1:
            return replace(session, meeting=replace(meeting, at=0))
        case Action.PREVIOUS_STOP:
            return replace(session, page=Page.MEETING)
        case Action.LIGHT_BACK | Action.UNDO:
            return replace(session, meeting=replace(meeting, offsets_64ths=((0, 0), (0, 0)), at=0))
    return session


def _judged(session: Session, meeting: Meeting, action: Action) -> Outcome:
    move = meeting.move
    if action is Action.PREVIOUS_STOP:
        return replace(session, page=Page.MOVING), ()
    if action is Action.LIGHT_BACK:
        return closed(session, meeting), ()
    if action not in (Action.NEXT_STOP, Action.CUT_DONE):
        return session, ()
    mends = move is not None and move.mend in (Mend.SHIFT, Mend.SHIFT_AND_TURN)
    return closed(session, meeting), ((Corrected(move),) if mends and move is not None else ())
