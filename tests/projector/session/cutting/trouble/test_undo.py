"""Undo takes back the last thing done, whatever it was, and says what it was."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.journal.events import DONE, REPLANNED, UNPLANNED, Event, measured_repeat, since_replanned
from projector.session.actions import NUDGES_64THS, TURNS, Action
from projector.session.cutting.journal import Done, PlanAsBefore, RegistrationUndone, Undone
from projector.session.cutting.light import LAYERS, Layer, Motion
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import DELIBERATE_S, press
from projector.session.cutting.state import Session
from tests.projector.session.cutting.registration.test_marking import laid
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import QUICK_S, after, at_work, begun

LIGHT = (*LAYERS, *NUDGES_64THS, *TURNS, Action.LIGHT_BACK, Action.COLOURS, Action.WIDER, Action.THINNER)


def test_a_run_of_nudges_and_turns_is_taken_back_as_one() -> None:
    moved, _ = after(at_work(), Action.LIGHT_RIGHT, Action.LIGHT_RIGHT, Action.TURN_LEFT)
    session, events = after(moved, Action.UNDO)
    assert (session.light.motion, session.status, events) == (Motion(), "taken back: moving the light", [])


def test_putting_the_light_back_is_taken_back_to_where_it_was() -> None:
    moved, _ = after(at_work(), Action.LIGHT_RIGHT)
    session, _ = after(moved, Action.LIGHT_BACK, Action.UNDO)
    assert (session.light.motion, session.status) == (moved.light.motion, "taken back: putting the light back")


@pytest.mark.parametrize(("action", "layer"), LAYERS.items())
def test_a_layer_switched_is_taken_back_by_name(action: Action, layer: Layer) -> None:
    switched, _ = after(at_work(), action)
    assert switched.light.hidden == {layer}
    session, events = after(switched, Action.UNDO)
    assert (session.light.hidden, session.status, events) == (frozenset(), f"taken back: {layer.value}", [])


def test_the_last_thing_goes_first_whatever_it_was() -> None:
    session, _ = after(at_work(pulls=1, done=("cut-2",)), Action.ROWS, Action.CUT_DONE, Action.LIGHT_RIGHT)
    session, events = after(session, Action.UNDO)
    assert (session.light.motion.is_still, events) == (True, [])
    session, events = after(session, Action.UNDO)
    assert events == [Undone("cut-1")]
    session, events = after(session, Action.UNDO)
    assert (session.light.hidden, events) == (frozenset(), [])
    # What is left to undo is the tick of an earlier session.
    assert after(session, Action.UNDO)[1] == [Undone("cut-2")]


def test_a_laying_taken_back_leaves_the_light_as_it_was_moved_before_it() -> None:
    moved, _ = after(at_work(2, 1), Action.LIGHT_RIGHT)
    session, _ = laid(moved)
    assert session.light.motion.is_still
    session, events = after(session, Action.UNDO)
    assert (session.light.motion, events) == (moved.light.motion, [RegistrationUndone("cut-1")])
    assert session.status == "taken back: how the cloth was laid"


def test_nothing_to_take_back_is_said() -> None:
    session, events = after(at_work(), Action.UNDO)
    assert (session.status, events) == ("there is nothing to take back", [])


def test_what_was_told_is_gone_with_the_next_key() -> None:
    assert after(at_work(), Action.ROWS, Action.ANY_OTHER)[0].status == ""


def made_anew(done: tuple[str, ...] = ()) -> Session:
    return press(begun(plan_of(3, 1), done, made_anew=True), Action.ANY_OTHER)[0]


def test_a_plan_made_anew_is_taken_back_by_two_presses_when_nothing_else_is_left() -> None:
    session, events = after(made_anew(), Action.ROWS, Action.UNDO, Action.UNDO)
    assert (session.page, events) == (Page.PLAN_AS_BEFORE, [])
    assert press(session, Action.UNDO, QUICK_S) == (session, ())
    assert after(session, Action.NEXT_STOP)[0].page is Page.STOP
    session, events = after(session, Action.UNDO)
    assert (session.page, session.as_before, events) == (Page.LEFT, True, [PlanAsBefore()])


def test_the_journal_gives_back_the_plan_and_what_was_done_under_it() -> None:
    first = Event(1, "laid", "a", "", "old")
    anew = Event(2, REPLANNED, None, "", "old", {"along": "25/2"})
    under_new = Event(3, "laid", "b", "", "new")
    back = Event(4, UNPLANNED, None, "", "new")
    again = Event(5, REPLANNED, None, "", "old", {"along": "13"})
    assert measured_repeat([first, anew, under_new]) == Fraction(25, 2)
    assert measured_repeat([first, anew, under_new, back]) is None
    assert since_replanned([first, anew, under_new, back]) == (first,)
    assert measured_repeat([first, anew, back, again]) == 13
    assert since_replanned([first, anew, back, again, Event(6, DONE, "a", "", "new")])[0].event == DONE
    assert since_replanned([back, first]) == (first,)


@given(st.lists(st.sampled_from(LIGHT), max_size=40))
@settings(max_examples=60)
def test_undo_walks_all_changes_of_the_light_back_to_the_first(actions: list[Action]) -> None:
    begun = at_work(2, 1)
    session, _ = after(begun, *actions)
    for _ in actions:
        if not session.steps:
            break
        session, _ = after(session, Action.UNDO)
    assert session.light == begun.light
    assert replace(session, status="") == begun


@given(st.lists(st.tuples(st.sampled_from(list(Action)), st.floats(0.8, 9)), max_size=60))
@settings(max_examples=80)
def test_undo_over_and_over_leaves_nothing_done(presses: list[tuple[Action, float]]) -> None:
    session = begun(plan_of(3, 1))
    for action, quiet_s in presses:
        session, _ = press(session, action, quiet_s)
    if session.page is Page.LEFT:
        return
    session = replace(session, dark=False)
    for _ in range(2 * len(presses) + 10):
        session, events = press(session, Action.UNDO)
        assert not any(isinstance(event, Done) for event in events)
    assert (session.done, session.ways) == ((), ())


def test_a_remote_alone_takes_back_a_tick_just_made_by_three_presses_of_back() -> None:
    session, _ = after(at_work(pulls=1), Action.CUT_DONE, Action.PREVIOUS_STOP)
    assert (session.page, session.cut_is_done, session.may_untick) == (Page.STOP, True, True)
    session, events = after(session, Action.PREVIOUS_STOP)
    assert (session.page, events) == (Page.NOT_CUT, [])
    assert press(session, Action.PREVIOUS_STOP, QUICK_S) == (session, ())
    unticked, events = after(session, Action.PREVIOUS_STOP)
    assert (unticked.page, unticked.done, events) == (Page.STOP, (), [Undone("cut-1")])
    kept, events = after(session, Action.NEXT_STOP)
    assert (kept.page, kept.done, kept.may_untick, events) == (Page.STOP, ("cut-1",), False, [])


def test_after_any_other_key_back_only_steps_back() -> None:
    session = at_work(pulls=2, done=("cut-2",))
    session, _ = after(session, Action.NEXT_STOP, Action.CUT_DONE, Action.ANY_OTHER)
    session, events = after(session, *[Action.PREVIOUS_STOP] * 6)
    assert (session.page, session.at, events) == (Page.STOP, 0, [])


def test_the_last_cut_of_all_is_taken_back_by_a_remote_too() -> None:
    session, _ = after(at_work(1, 1), Action.NEXT_STOP, Action.NEXT_STOP)
    assert session.page is Page.ALL_DONE
    session, events = after(session, *[Action.PREVIOUS_STOP] * 3)
    assert (session.page, events) == (Page.STOP, [Undone("cut-1")])


@given(st.lists(st.tuples(st.sampled_from((Action.NEXT_STOP, Action.PREVIOUS_STOP)), st.floats(0, 2)), max_size=60))
@settings(max_examples=100)
def test_a_remote_takes_a_tick_back_only_by_a_deliberate_back_at_the_question(
    presses: list[tuple[Action, float]],
) -> None:
    session = begun(plan_of(3, 1))
    for action, quiet_s in presses:
        was = session
        session, events = press(session, action, quiet_s)
        if any(isinstance(event, Undone) for event in events):
            assert (was.page, action) == (Page.NOT_CUT, Action.PREVIOUS_STOP)
            assert quiet_s >= DELIBERATE_S


def test_while_the_cloth_is_laid_undo_takes_back_the_move_then_the_point_then_the_laying() -> None:
    begun, _ = after(at_work(2, 1), Action.LAY)
    session, _ = after(begun, Action.CUT_DONE, Action.LIGHT_RIGHT)
    assert session.marking is not None
    assert (len(session.marking.points), session.marking.offset_64ths) == (1, (4, 0))
    session, _ = after(session, Action.UNDO)
    assert session.marking is not None
    assert (len(session.marking.points), session.marking.offset_64ths) == (1, (0, 0))
    session, _ = after(session, Action.UNDO)
    assert session.marking is not None
    assert session.marking.points == ()
    assert after(session, Action.UNDO)[0].page is Page.STOP


def test_undo_at_a_question_takes_back_the_question_or_the_answer_and_no_tick() -> None:
    asked, _ = after(at_work(pulls=1, done=("cut-2",)), Action.NEXT_STOP)
    session, events = after(asked, Action.UNDO)
    assert (session.page, session.done, events) == (Page.STOP, ("cut-2",), [])
    answered, _ = after(at_work(2, 1, done=("cut-1",)), Action.NEXT_STOP)
    assert (answered.page, answered.answered) == (Page.ORIENTATION, 1)
    session, events = after(answered, Action.UNDO)
    assert (session.page, session.answered, session.done, events) == (Page.ORIENTATION, 0, ("cut-1",), [])
