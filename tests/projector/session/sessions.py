"""Sessions for tests, and runs of presses."""

from __future__ import annotations

import math

from projector.session.actions import Action
from projector.session.cutting.beginning import begin
from projector.session.pressing.press import DELIBERATE_S, press
from projector.session.state.state import Event, Page, Session
from tests.projector.session.plans import plan_of

QUICK_S = DELIBERATE_S / 2


def at_work(cuts: int = 3, pulls: int = 2, done: tuple[str, ...] = ()) -> Session:
    """A session whose cautions have been read."""
    return press(begin(plan_of(cuts, pulls), done), Action.ANY_OTHER)[0]


def seen(session: Session) -> Session:
    """The session with every question about the way of a turned panel answered."""
    while session.page is Page.WHICH_WAY:
        session, _ = press(session, Action.NEXT_STOP)
    return session


def after(session: Session, *actions: Action, quiet_s: float = math.inf) -> tuple[Session, list[Event]]:
    events: list[Event] = []
    for action in actions:
        session, new = press(session, action, quiet_s)
        events += new
    return session, events
