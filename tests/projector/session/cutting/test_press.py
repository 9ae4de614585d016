"""The session at the table, key by key."""

from __future__ import annotations

from dataclasses import replace

import pytest

from projector.session.actions import Action
from projector.session.cutting.begin import ForeignCutsError, NoStopsError
from projector.session.cutting.journal import Done, Undone
from projector.session.cutting.light import Layer
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import in_trouble, press
from projector.session.cutting.ticking import CUTTING_S
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import QUICK_S, after, at_work, begun, seen


def test_cautions_come_first_and_any_key_goes_on() -> None:
    session = begun(plan_of())
    assert session.page is Page.CAUTIONS
    session, events = press(session, Action.CUT_DONE)
    assert (session.page, session.at, events) == (Page.STOP, 0, ())


def test_a_plan_without_stops_is_refused() -> None:
    with pytest.raises(NoStopsError):
        begun(replace(plan_of(), stops=()))


def test_ticks_of_cuts_the_plan_does_not_have_are_refused_by_name() -> None:
    with pytest.raises(ForeignCutsError) as refusal:
        begun(plan_of(), ("cut-1", "attic-left-1"))
    assert refusal.value.cuts == ("attic-left-1",)


def test_a_resumed_session_begins_at_the_first_cut_not_done() -> None:
    session = begun(plan_of(3), ("cut-1", "cut-3"))
    assert session.stop.placement.cut.id == "cut-2"
    assert session.stop.pull == 1


def test_next_and_previous_step_through_pulls() -> None:
    session, _ = after(at_work(), Action.NEXT_STOP)
    assert (session.at, session.page) == (1, Page.STOP)
    session, _ = after(session, Action.PREVIOUS_STOP, Action.PREVIOUS_STOP)
    assert session.at == 0


def test_after_the_last_stop_of_a_cut_the_light_asks_before_going_on() -> None:
    session, events = after(at_work(), Action.NEXT_STOP, Action.NEXT_STOP)
    assert (session.page, session.at, events) == (Page.IS_IT_CUT, 1, [])


def test_forward_again_ticks_and_goes_on_to_the_next_cut() -> None:
    session, events = after(at_work(), Action.NEXT_STOP, Action.NEXT_STOP, Action.NEXT_STOP)
    assert events == [Done("cut-1")]
    assert (session.done, session.at, session.page) == (("cut-1",), 2, Page.ORIENTATION)


def test_back_says_not_yet() -> None:
    session, events = after(at_work(), Action.NEXT_STOP, Action.NEXT_STOP, Action.PREVIOUS_STOP)
    assert (session.page, session.at, session.done, events) == (Page.STOP, 1, (), [])


def test_a_quick_second_press_does_not_answer_the_question() -> None:
    session, _ = after(at_work(), Action.NEXT_STOP, Action.NEXT_STOP)
    for action in (Action.NEXT_STOP, Action.CUT_DONE):
        after_it, events = press(session, action, QUICK_S)
    assert (replace(after_it, status=""), events) == (session, ())
    assert after_it.status == "too quick: look, wait a second, then press again"


def test_enter_ticks_at_the_stop_that_shows_the_last_edge() -> None:
    session, events = after(at_work(), Action.NEXT_STOP, Action.CUT_DONE)
    assert events == [Done("cut-1")]
    assert session.at == 2


def test_enter_asks_where_the_last_edge_is_not_lit() -> None:
    session, events = after(at_work(), Action.CUT_DONE)
    assert (session.page, events) == (Page.IS_IT_CUT, [])
    assert press(session, Action.CUT_DONE)[1] == (Done("cut-1"),)


def test_the_last_edge_of_a_turned_cut_is_its_top() -> None:
    session = seen(at_work(cuts=2, done=("cut-1",)))
    assert session.stop.shows == ("foot",)
    assert not session.stop.shows_last_edge
    assert after(session, Action.NEXT_STOP)[0].stop.shows_last_edge


def test_enter_asks_when_the_plan_cuts_another_first() -> None:
    session, events = after(at_work(pulls=1), Action.NEXT_CUT, Action.NEXT_CUT, Action.CUT_DONE)
    assert (session.page, session.placement.cut.id, events) == (Page.IS_IT_CUT, "cut-3", [])


def test_a_bouncing_enter_ticks_one_cut_only() -> None:
    session, events = after(at_work(pulls=1, done=("cut-2",)), Action.CUT_DONE)
    assert events == [Done("cut-1")]
    session, events = after(session, *[Action.CUT_DONE] * 9, quiet_s=0.05)
    assert (session.page, events) == (Page.IS_IT_CUT, [])


def test_enter_sooner_than_a_cut_can_be_made_asks() -> None:
    session, _ = after(at_work(pulls=1, done=("cut-2",)), Action.CUT_DONE)
    session, events = after(session, Action.CUT_DONE, quiet_s=CUTTING_S - 0.1)
    assert (session.page, events) == (Page.IS_IT_CUT, [])


def test_enter_after_a_rest_ticks_the_next_cut() -> None:
    session = at_work(pulls=1, done=("cut-2",))
    assert after(session, Action.CUT_DONE, Action.CUT_DONE)[1] == [Done("cut-1"), Done("cut-3")]


def test_next_cut_leaves_this_one_and_comes_round_to_it() -> None:
    session = at_work(3)
    seen = []
    for _ in range(4):
        session, events = after(session, Action.NEXT_CUT)
        assert events == []
        seen.append(session.placement.cut.id)
    assert seen == ["cut-2", "cut-3", "cut-1", "cut-2"]


def test_a_done_cut_can_be_looked_at_but_not_ticked_again() -> None:
    session, _ = after(at_work(pulls=1), Action.CUT_DONE, Action.PREVIOUS_STOP)
    assert session.cut_is_done
    again = replace(session, just_ticked=False, fresh_tick=False, status="this cut is done already")
    assert press(session, Action.CUT_DONE) == (again, ())
    assert after(session, Action.NEXT_STOP)[0].placement.cut.id == "cut-2"


def test_after_the_last_stop_the_light_goes_to_a_cut_that_was_left() -> None:
    session = at_work(3, pulls=1)
    session, _ = after(session, Action.NEXT_CUT, Action.NEXT_CUT, Action.CUT_DONE, Action.CUT_DONE)
    assert session.placement.cut.id == "cut-1"


def test_undo_takes_back_the_last_tick_where_it_was_made() -> None:
    ticked, _ = after(at_work(pulls=1, done=("cut-2",)), Action.CUT_DONE, Action.CUT_DONE)
    session, events = after(ticked, Action.UNDO)
    assert (events, session.done, session.placement.cut.id) == ([Undone("cut-3")], ("cut-2", "cut-1"), "cut-3")
    session, events = after(session, Action.UNDO)
    assert (events, session.done, session.placement.cut.id) == ([Undone("cut-1")], ("cut-2",), "cut-1")
    assert session.status == "taken back: the tick of Window 1, left, 1 of 1"


def test_a_tick_of_an_earlier_day_can_be_undone() -> None:
    session, events = after(at_work(done=("cut-1",)), Action.UNDO)
    assert (events, session.placement.cut.id, session.is_last_stop_of_cut) == ([Undone("cut-1")], "cut-1", True)


def test_escape_asks_once() -> None:
    session, events = after(at_work(), Action.LEAVE)
    assert (session.page, events) == (Page.LEAVE, [])
    assert after(session, Action.LEAVE)[1] == []
    stayed, events = after(session, Action.NEXT_STOP)
    assert (stayed.page, stayed.at, events) == (Page.STOP, 0, [])


def test_staying_returns_to_unread_cautions() -> None:
    assert after(begun(plan_of()), Action.LEAVE, Action.ANY_OTHER)[0].page is Page.CAUTIONS


def test_nothing_happens_in_the_dark() -> None:
    dark, _ = after(at_work(pulls=1), Action.DARK)
    assert dark.dark
    for action in Action:
        lit, events = press(dark, action)
        assert (lit, events) == (replace(dark, dark=False), ())


def test_help_legend_and_remaining_are_closed_by_any_key_that_then_does_nothing_else() -> None:
    for page in (Action.HELP, Action.LEGEND, Action.REMAINING):
        opened, _ = after(at_work(pulls=1), page)
        closed, events = press(opened, Action.CUT_DONE)
        assert (closed, events) == (at_work(pulls=1), ())


def test_the_light_moves_in_exact_steps_and_comes_back() -> None:
    session, _ = after(at_work(), Action.LIGHT_RIGHT, Action.LIGHT_FAR_AWAY, Action.LIGHT_HAIR_LEFT, Action.TURN_LEFT)
    assert (session.light.motion.right_64ths, session.light.motion.away_64ths, session.light.motion.turn_steps) == (
        3,
        32,
        1,
    )
    assert after(session, Action.LIGHT_BACK)[0].light.motion.is_still


def test_the_motion_of_the_light_stays_from_cut_to_cut() -> None:
    session, _ = after(at_work(pulls=1), Action.LIGHT_RIGHT, Action.CUT_DONE)
    assert session.light.motion.right_64ths == 4


def test_layers_widths_and_colours_change_only_the_light() -> None:
    session, events = after(at_work(), Action.ROWS, Action.LETTERS, Action.WIDER, Action.COLOURS, Action.ROWS)
    assert (session.light.hidden, session.light.width_step, session.light.colour) == (frozenset({Layer.LETTERS}), 1, 1)
    assert (events, session.at) == ([], 0)


def test_width_stays_within_bounds() -> None:
    wide, _ = after(at_work(), *[Action.WIDER] * 50)
    thin, _ = after(at_work(), *[Action.THINNER] * 50)
    assert 1 < wide.light.width_factor < 6
    assert 0.4 < thin.light.width_factor < 1


def test_trouble_is_said_until_any_key_and_changes_nothing() -> None:
    troubled = in_trouble(at_work(), "The disk is full.")
    assert troubled.page is Page.TROUBLE
    assert press(troubled, Action.CUT_DONE) == (at_work(), ())


def test_the_end_is_said_and_a_remote_can_leave_from_there() -> None:
    session, events = after(at_work(1, 1), Action.NEXT_STOP, Action.NEXT_STOP)
    assert (session.page, events) == (Page.ALL_DONE, [Done("cut-1")])
    assert after(session, Action.UNDO)[1] == [Undone("cut-1")]
    assert press(after(session, Action.NEXT_STOP)[0], Action.NEXT_STOP, QUICK_S)[1] == ()
    session, events = after(session, Action.NEXT_STOP, Action.NEXT_STOP)
    assert (session.page, events) == (Page.LEFT, [])
    assert press(session, Action.UNDO) == (session, ())
