"""Keys while it is asked which way a turned panel lies. Pure."""

from __future__ import annotations

from dataclasses import replace

from projector.session.actions import Action
from projector.session.state.confirmed import Confirmed
from projector.session.state.events import Event, WayConfirmed
from projector.session.state.pages import Page
from projector.session.state.state import Session

Outcome = tuple[Session, tuple[Event, ...]]

READ_S = 0.7
"""A question that was lit for less than this was not read: a bouncing key, a held one or a double press is quicker."""

ELSEWHERE = frozenset(
    (
        Action.NEXT_CUT,
        Action.UNDO,
        Action.LEAVE,
        Action.LAY,
        Action.HELP,
        Action.LEGEND,
        Action.REMAINING,
        Action.PREVIOUS_STOP,
    )
)
"""What means here what it means at a stop; nothing of it ticks a cut."""


def ask(session: Session) -> Session:
    """The first question about the panel of the lit cut, in place of the stop."""
    return replace(session, page=Page.WHICH_WAY, answered=0)


def press_which_way(session: Session, action: Action, quiet_s: float) -> Outcome | None:
    """What one request does while the questions stand; None where it means what it means at a stop.

    Each question takes a press of its own, so that a slip answers one at most, and none before it could be read.
    """
    if action in (Action.NEXT_STOP, Action.CUT_DONE):
        return _answered(session) if quiet_s >= READ_S else (session, ())
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
    way = Confirmed(cut, len(session.done), len(session.layings))
    return replace(session, ways=(*session.ways, way), answered=0, page=Page.STOP), (WayConfirmed(cut),)
