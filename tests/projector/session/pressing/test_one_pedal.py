"""One pedal, or a remote with two keys, runs a whole session: marks checked, cloth laid, turned panels, the end."""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.model.cuts import Way
from projector.session.actions import Action
from projector.session.cutting.beginning import begin
from projector.session.pressing.press import press
from projector.session.state.events import Done, Event, LaidEvent, Left, WayConfirmed
from projector.session.state.meeting import meeting_of
from projector.session.state.pages import Page
from projector.session.state.state import Session
from tests.projector.session.facing.test_which_way import plan_with
from tests.projector.session.laying.test_marking import laid
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of
from tests.projector.session.sessions import at_work

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
    session, events, pages = pedalled(begin(plan, meeting=meeting_of(table_of(960, 540))))
    assert session.page is Page.LEFT
    assert [event.cut for event in events if isinstance(event, Done)] == ["cut-1", "cut-2", "cut-3"]
    assert [event.cut for event in events if isinstance(event, WayConfirmed)] == ["cut-2"] * (way is not Way.UPRIGHT)
    assert events[-1] == Left()
    assert pages[:3] == [Page.CAUTIONS, Page.MEETING, Page.STOP]
    assert pages.count(Page.WHICH_WAY) == {Way.UPRIGHT: 0, Way.TURNED: 2, Way.FACE_DOWN: 3}[way]


def test_a_session_resumed_on_cloth_that_was_laid_is_run_too() -> None:
    before, _ = laid(at_work(2, 2))
    session, events, pages = pedalled(begin(plan_of(2, 2), ("cut-1",), layings=before.layings))
    assert session.page is Page.LEFT
    assert pages[:4] == [Page.CAUTIONS, Page.LAYING, Page.LAID, Page.WHICH_WAY]
    assert [type(event) for event in events] == [LaidEvent, WayConfirmed, Done, Left]


def test_a_remote_goes_back_from_everywhere_to_the_first_stop_and_forward_again() -> None:
    session = begin(plan_of(3, 2), meeting=meeting_of(table_of(960, 540)))
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
    from projector.session.pressing.interruptions import interrupted

    session = begin(plan_of(2, 1), meeting=meeting_of(table_of(960, 540)))
    for _ in range(3):
        session, _ = press(session, Action.NEXT_STOP, CALM_S)
    assert session.page is Page.IS_IT_CUT
    session = interrupted(replace(session), "It slept.", table_of(960, 540), checks=True)
    session, events, pages = pedalled(session)
    assert session.page is Page.LEFT
    assert pages[:3] == [Page.MEETING, Page.STOP, Page.IS_IT_CUT]
    assert [event.cut for event in events if isinstance(event, Done)] == ["cut-1", "cut-2"]
