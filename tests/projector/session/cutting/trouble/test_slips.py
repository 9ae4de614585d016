"""No slip ticks a cut, one pedal runs a whole job, and undo restores: whatever is pressed, however fast."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projector.session.actions import Action
from projector.session.cutting.journal import Done, Undone, WayConfirmed
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import DELIBERATE_S, press
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import QUICK_S, after, begun

REMOTE = (Action.NEXT_STOP, Action.PREVIOUS_STOP, Action.DARK)


@pytest.mark.parametrize("pulls", [1, 2, 3])
def test_one_pedal_that_goes_forward_runs_a_whole_job(pulls: int) -> None:
    session, events = begun(plan_of(4, pulls)), []
    # Cautions, then each stop once, each question once, and two about each of the two turned panels.
    for _ in range(1 + 4 * (pulls + 1) + 2 * 2):
        session, new = press(session, Action.NEXT_STOP, 1.0)
        events += new
    assert [event for event in events if isinstance(event, Done)] == [Done(f"cut-{n}") for n in (1, 2, 3, 4)]
    seen = [event for event in events if isinstance(event, WayConfirmed)]
    assert seen == [WayConfirmed("cut-2"), WayConfirmed("cut-4")]
    assert session.page is Page.ALL_DONE


@given(st.lists(st.sampled_from(REMOTE), max_size=60), st.integers(1, 3))
@settings(max_examples=60)
def test_no_drumming_on_a_remote_ever_ticks(actions: list[Action], pulls: int) -> None:
    _, events = after(begun(plan_of(3, pulls)), *actions, quiet_s=QUICK_S)
    assert not [event for event in events if isinstance(event, Done)]


@given(st.lists(st.tuples(st.sampled_from(REMOTE), st.floats(0, 2)), max_size=60), st.integers(1, 3))
@settings(max_examples=100)
def test_a_remote_ticks_only_by_a_deliberate_forward_at_the_lit_question(
    presses: list[tuple[Action, float]], pulls: int
) -> None:
    session = begun(plan_of(3, pulls))
    for action, quiet_s in presses:
        was = session
        session, events = press(session, action, quiet_s)
        if any(isinstance(event, Done) for event in events):
            assert was.page is Page.IS_IT_CUT
            assert not was.dark
            assert action is Action.NEXT_STOP
            assert quiet_s >= DELIBERATE_S


PRESSES = st.lists(st.tuples(st.sampled_from(list(Action)), st.floats(0, 2)), max_size=60)


@given(PRESSES, st.integers(1, 3), st.sets(st.sampled_from(["cut-1", "cut-2", "cut-3"])))
@settings(max_examples=150)
def test_whatever_is_pressed_ticks_and_undos_add_up_and_undo_restores(
    presses: list[tuple[Action, float]], pulls: int, done: set[str]
) -> None:
    session = begun(plan_of(3, pulls), sorted(done))
    record = sorted(done)
    for action, quiet_s in presses:
        was = session
        session, events = press(session, action, quiet_s)
        for event in events:
            if isinstance(event, Done):
                assert event.cut not in record
                record.append(event.cut)
                restored, undone = press(session, Action.UNDO)
                # Who ticks a cut has had the cloth lie for it: that is no slip to be taken back.
                same = replace(was, page=Page.STOP, just_ticked=False, fresh_tick=False, lies_at=was.at)
                assert replace(restored, status="") == replace(same, status="")
                assert undone == (Undone(event.cut),)
            elif isinstance(event, Undone):
                assert record.pop() == event.cut
        assert session.done == tuple(record)
        assert len(session.ticked_at) == len(session.done)
        assert 0 <= session.at < len(session.stops)
        assert not (session.page is Page.IS_IT_CUT and session.cut_is_done)
