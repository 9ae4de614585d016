"""One pedal, or a remote with two keys, runs a whole session: marks checked, cloth laid, turned panels, the end."""

from __future__ import annotations

import pytest

from jobs.model.cuts import Way
from projector.session.actions import Action
from projector.session.cutting.journal import Done, Event, RegistrationKept, WayConfirmed
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import press
from projector.session.cutting.startup_check import startup_check_of
from projector.session.cutting.state import Session
from tests.projector.session.cutting.registration.test_marking import laid
from tests.projector.session.cutting.test_orientation import plan_with
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import at_work, begun
from tests.projector.session.tables import table_of

CALM_S = 1.0
MOST = 80


def pedalled(session: Session) -> tuple[Session, list[Event], list[Page]]:
    """The session run to its end by forward alone, a second between presses."""
    events: list[Event] = []
    pages: list[Page] = []
    for _ in range(MOST):
        if session.page is Page.LEFT:
            break
        pages.append(session.page)
        session, new = press(session, Action.NEXT_STOP, CALM_S)
        events += new
    return session, events, pages


@pytest.mark.parametrize("way", list(Way))
def test_from_the_cautions_to_the_end_with_the_marks_checked_first(way: Way) -> None:
    plan = plan_with(way, cuts=3)
    session, events, pages = pedalled(begun(plan, check=startup_check_of(table_of(960, 540))))
    assert session.page is Page.LEFT
    assert [event.cut for event in events if isinstance(event, Done)] == ["cut-1", "cut-2", "cut-3"]
    assert [event.cut for event in events if isinstance(event, WayConfirmed)] == ["cut-2"] * (way is not Way.UPRIGHT)
    assert pages[:3] == [Page.CAUTIONS, Page.STARTUP_CHECK, Page.STOP]
    assert pages.count(Page.ORIENTATION) == {Way.UPRIGHT: 0, Way.TURNED: 2, Way.FACE_DOWN: 3}[way]


def test_a_session_resumed_on_cloth_that_was_laid_is_run_too() -> None:
    before, _ = laid(at_work(2, 2))
    session, events, pages = pedalled(begun(plan_of(2, 2), ("cut-1",), registered=before.registered))
    assert session.page is Page.LEFT
    assert pages[:4] == [Page.CAUTIONS, Page.MARKING, Page.REGISTRATION, Page.ORIENTATION]
    assert [type(event) for event in events] == [RegistrationKept, WayConfirmed, Done]


def test_a_remote_goes_back_from_everywhere_to_the_first_stop_and_forward_again() -> None:
    session = begun(plan_of(3, 2), check=startup_check_of(table_of(960, 540)))
    for _ in range(3):
        session, _ = press(session, Action.NEXT_STOP, CALM_S)
    for turn in range(12):
        session, _ = press(session, Action.NEXT_STOP, CALM_S)
        if session.page is Page.IS_IT_CUT or turn % 3 == 2:
            session, _ = press(session, Action.PREVIOUS_STOP, CALM_S)
    assert session.done == ()
    session, events, _ = pedalled(session)
    assert session.page is Page.LEFT
    assert len([event for event in events if isinstance(event, Done)]) == 3


def test_after_an_interruption_the_pedal_goes_on() -> None:
    from projector.session.cutting.reducer import interrupted

    session = begun(plan_of(2, 1), check=startup_check_of(table_of(960, 540)))
    for _ in range(3):
        session, _ = press(session, Action.NEXT_STOP, CALM_S)
    assert session.page is Page.IS_IT_CUT
    session = interrupted(session, "It slept.")
    session, events, pages = pedalled(session)
    assert session.page is Page.LEFT
    assert pages[:3] == [Page.STARTUP_CHECK, Page.STOP, Page.IS_IT_CUT]
    assert [event.cut for event in events if isinstance(event, Done)] == ["cut-1", "cut-2"]
