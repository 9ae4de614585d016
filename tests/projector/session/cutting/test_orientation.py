"""Before the first cut of a panel that lies turned or face down it is asked which way it lies: no slip answers."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.journal.file import JournalFile
from jobs.model.cuts import Edge, Way
from jobs.model.plan import Plan
from projector.scene.lettering import box_of
from projector.scene.marks import Kind, Scene, Stroke, Text
from projector.session.actions import Action
from projector.session.cutting.journal import Done, Event, WayConfirmed, WayReopened, confirmed_in, recording_in
from projector.session.cutting.orientation import Question, orientation_text, questions_of
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import DELIBERATE_S, press
from projector.session.cutting.state import Session
from projector.session.keys import DEFAULT_KEYS
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import QUICK_S, after, begun, lit, setup

AREA = ((-5.0, -4.0), (70.0, -4.0), (70.0, 56.0), (-5.0, 56.0))
REMOTE = (Action.NEXT_STOP, Action.PREVIOUS_STOP, Action.DARK)


def plan_with(way: Way, cuts: int = 2) -> Plan:
    """The usual plan, its second panel lying ``way``."""
    plan = plan_of(cuts, 2)

    def swapped(placed):
        if placed.cut.id != "cut-2":
            return placed
        return replace(placed, cut=replace(placed.cut, way=way, leading_edge=Edge.FAR))

    placements = tuple(swapped(placed) for placed in plan.placements)
    stops = tuple(replace(stop, placement=swapped(stop.placement)) for stop in plan.stops)
    return replace(plan, placements=placements, cuts=tuple(p.cut for p in placements), stops=stops)


def asked(plan: Plan | None = None) -> Session:
    session = press(begun(plan or plan_of(2, 2), ("cut-1",)), Action.ANY_OTHER)[0]
    assert session.page is Page.ORIENTATION
    return session


def words(scene: Scene) -> str:
    return " ".join(" ".join(mark.text for mark in scene.marks if isinstance(mark, Text)).split())


def test_an_upright_panel_is_not_asked_about() -> None:
    assert questions_of(plan_of().cuts[0]) == ()
    assert press(begun(plan_of()), Action.ANY_OTHER)[0].page is Page.STOP


@pytest.mark.parametrize("action", [Action.NEXT_STOP, Action.CUT_DONE])
def test_two_answers_each_after_a_pause_open_the_stop_and_are_recorded_once(action: Action) -> None:
    session, events = after(asked(), action)
    assert (session.page, session.answered, events) == (Page.ORIENTATION, 1, [])
    session, events = after(session, action)
    assert (session.page, session.at, events) == (Page.STOP, 2, [WayConfirmed("cut-2")])


def test_a_panel_face_down_is_asked_about_its_face_first() -> None:
    session = asked(plan_with(Way.FACE_DOWN))
    assert session.questions == (Question.FACE, Question.TOP, Question.SIDES)
    session, events = after(session, *[Action.NEXT_STOP] * 3)
    assert (session.page, events) == (Page.STOP, [WayConfirmed("cut-2")])


@given(st.lists(st.sampled_from([a for a in Action if a is not Action.NEXT_CUT]), max_size=30))
@settings(max_examples=60)
def test_no_drumming_answers(actions: list[Action]) -> None:
    _, events = after(asked(), *actions, quiet_s=QUICK_S)
    assert not [event for event in events if isinstance(event, WayConfirmed)]


def test_one_press_however_long_the_pause_answers_one_question_only() -> None:
    for action in Action:
        session, events = press(asked(), action, math.inf)
        assert not any(isinstance(event, WayConfirmed | Done) for event in events)
        assert session.page is not Page.STOP or session.cut_is_done or not session.way_is_open


@given(st.lists(st.tuples(st.sampled_from(list(Action)), st.floats(0, 4)), max_size=80), st.sampled_from(list(Way)))
@settings(max_examples=150)
def test_nothing_is_ticked_of_a_panel_whose_way_is_open(presses: list[tuple[Action, float]], way: Way) -> None:
    session = begun(plan_with(way, 3))
    for action, quiet_s in presses:
        was = session
        session, events = press(session, action, quiet_s)
        for event in events:
            if isinstance(event, Done):
                assert not was.way_is_open
            if isinstance(event, WayConfirmed):
                assert was.page is Page.ORIENTATION
                assert was.answered == len(was.questions) - 1
                assert quiet_s >= DELIBERATE_S
        assert not (session.page in (Page.STOP, Page.IS_IT_CUT) and session.way_is_open)


def test_back_returns_to_the_question_before_and_then_to_the_cut_that_is_done() -> None:
    session, _ = after(asked(), Action.NEXT_STOP, Action.PREVIOUS_STOP)
    assert session.answered == 0
    session, _ = after(session, Action.PREVIOUS_STOP)
    assert (session.page, session.placement.cut.id, session.cut_is_done) == (Page.STOP, "cut-1", True)
    assert after(session, Action.NEXT_STOP)[0].page is Page.ORIENTATION


def test_undo_asks_again_and_then_takes_back_the_tick() -> None:
    session, _ = after(asked(), Action.NEXT_STOP, Action.NEXT_STOP)
    session, events = after(session, Action.UNDO)
    assert (session.page, session.answered, events) == (Page.ORIENTATION, 0, [WayReopened("cut-2")])
    assert "taken back" in session.status
    session, _ = after(session, Action.UNDO)
    assert session.done == ()


def test_a_new_session_does_not_ask_again_but_a_new_plan_does(tmp_path: Path) -> None:
    plan = plan_of(2, 2)
    with JournalFile(tmp_path / "room.yaml.cuts") as journal:
        record = recording_in(journal, plan)
        events: tuple[Event, ...] = (Done("cut-1"), WayConfirmed("cut-2"))
        for event in events:
            record(event)  # type: ignore[arg-type]
        mark = journal.events[0].plan
        ways = confirmed_in(journal.events, mark)
        assert confirmed_in(journal.events, "another") == ()
        record(WayReopened("cut-2"))
        assert confirmed_in(journal.events, mark) == ()
    session = press(begun(plan, ("cut-1",), ways=ways), Action.ANY_OTHER)[0]
    assert (session.page, session.at) == (Page.STOP, 2)


def test_a_done_panel_is_looked_back_at_without_questions() -> None:
    session = press(begun(plan_of(2, 2), ("cut-1", "cut-2")), Action.ANY_OTHER)[0]
    assert after(session, Action.PREVIOUS_STOP)[0].page is Page.STOP


@pytest.mark.parametrize("way", [Way.TURNED, Way.FACE_DOWN])
def test_every_question_stands_inside_the_light_with_its_picture_and_no_cut_line(way: Way) -> None:
    plan = plan_with(way)
    session = asked(plan)
    for number in range(len(session.questions)):
        scene = lit(replace(session, answered=number, setup=setup(plan, AREA)))
        assert not scene.of(Kind.CUT, Kind.CUT_DOUBTFUL)
        boxes = [box_of(mark) for mark in scene.marks if isinstance(mark, Text)]
        assert not [pair for pair in combinations(boxes, 2) if pair[0].overlaps(pair[1])]
        assert all(box.left >= -5 and box.right <= 70 and box.near >= -4 and box.far <= 56 for box in boxes)
        # What is asked about is drawn full: the whole outline, the top end, the leading side.
        full = [m for m in scene.of(Kind.TOP) if isinstance(m, Stroke) and len(m.points) == 2]
        assert len(full) == (4 if session.questions[number] is Question.FACE else 1)
        assert len(scene.of(Kind.GUIDE)) == 4 - len(full)


def test_the_words_say_where_top_and_leading_edge_lie_and_the_picture_agrees() -> None:
    plan = plan_with(Way.FACE_DOWN)
    session = asked(plan)
    said = [
        " ".join(text for text, _ in orientation_text(session.placement.cut, n, DEFAULT_KEYS, can_go_back=False))
        for n in range(3)
    ]
    assert "FACE DOWN" in said[0]
    assert "FRONT SIDE DOWN" in said[0]
    assert "the side you see will be the BACK" in said[0]
    # The second panel of the plan has its top at the second end, which lies to the right; its far selvedge leads.
    assert "TOP is to lie at your RIGHT" in said[1]
    assert "AWAY FROM YOU: leading edge. Nearest you: return edge." in said[2]
    for number, at in ((1, "right"), (2, "far")):
        scene = lit(replace(session, answered=number, setup=setup(plan, AREA)))
        (edge,) = [m for m in scene.of(Kind.TOP) if isinstance(m, Stroke) and len(m.points) == 2]
        others = [m for m in scene.of(Kind.GUIDE) if isinstance(m, Stroke)]
        axis = 0 if at == "right" else 1
        assert min(p[axis] for p in edge.points) >= max(p[axis] for m in others for p in m.points)


def test_the_keys_in_force_are_named() -> None:
    plan = plan_of(2, 2)
    keys = {"F8": Action.NEXT_STOP, **{k: a for k, a in DEFAULT_KEYS.items() if a is not Action.NEXT_STOP}}
    assert "F8: yes" in words(lit(replace(asked(plan), setup=setup(plan, AREA, keys))))
