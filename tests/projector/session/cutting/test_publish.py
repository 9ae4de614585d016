"""The session as JSON values: what a page shows, and what may be asked for."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from jobs.model.choices import Unit
from projector.session.actions import Action, parse, written
from projector.session.cutting.beginning import begin
from projector.session.cutting.host import Cutting
from projector.session.cutting.publish import publish
from projector.session.cutting.recording import not_kept
from projector.session.keys import DEFAULT_KEYS
from projector.session.lighting.lighting import Bench, bench_of
from projector.session.pressing.press import press
from projector.session.state.meeting import meeting_of
from projector.session.state.state import Session
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of
from tests.projector.session.sessions import after, at_work

TABLE = table_of(960, 540)
BENCH = bench_of(plan_of(), TABLE)
REQUESTS = [action for action in Action if action in DEFAULT_KEYS.values()]


def told(session: Session, bench: Bench = BENCH) -> dict[str, Any]:
    """What is published, as it arrives at the other end."""
    sent = publish(session, bench)
    arrived = json.loads(json.dumps(sent, allow_nan=False))
    assert arrived == sent, "only JSON values are published"
    return dict(arrived)


def possible(state: dict[str, Any]) -> dict[str, str]:
    """Why each action does nothing now; empty for those that do something."""
    return {one["action"]: one["why_not"] for one in state["actions"]}


def test_a_stop_says_whose_cut_it_is_where_its_top_lies_and_what_is_to_do() -> None:
    # Cuts are 80 in long, two stops each; cut 2 is turned, so that its top lies to the right.
    state = told(at_work())
    assert state["job"] == "Test room"
    assert (state["page"], state["text"], state["over"]) == ("stop", [], False)
    cut = state["cut"]
    assert (cut["window"], cut["hand"], cut["number"], cut["of"]) == ("Window 1", "left", 1, 1)
    assert (cut["place"], cut["among"], cut["length"], cut["length_in"]) == (1, 3, "80 in", 80.0)
    assert (cut["top"], cut["row"], cut["done"], cut["expected"]) == ("left", "5 in", False, True)
    assert (state["stop"]["number"], state["stop"]["of"]) == (1, 6)
    assert (state["stop"]["part"], state["stop"]["parts"]) == (1, 2)
    assert [one["state"] for one in state["cuts"]] == ["now", "next", "later"]
    assert state["left"] == 3


def test_what_is_ticked_and_what_comes_next_follow_the_ticks() -> None:
    state = told(after(at_work(), Action.NEXT_STOP, Action.CUT_DONE)[0])
    assert [one["done"] for one in state["cuts"]] == [True, False, False]
    assert [one["state"] for one in state["cuts"]] == ["done", "now", "next"]
    assert (state["left"], state["cut"]["top"]) == (2, "right")
    # It is turned, so two questions stand before it.
    assert state["page"] == "which_way"
    assert state["text"][0] == {"says": "This panel lies TURNED", "size": 1.8}
    assert [one["action"] for one in state["offers"]][:2] == ["next stop", "previous stop"]


def test_the_distance_to_pull_stands_there_until_it_is_done() -> None:
    # Cut 1 lies from 0 to 80; its second stop begins 2 in before its middle, at 38, which is 38/16 repeats.
    session = after(at_work(), Action.NEXT_STOP)[0]
    pull = told(session)["pull"]
    assert (pull["distance"], pull["distance_in"], pull["repeats"], pull["towards"]) == ("38 in", 38.0, 38 / 16, "left")
    assert pull["says"] == ["Pull the cloth 38 in to the left: 2 repeats and 6 in"]
    assert told(session)["offers"][1]["action"] == "pulled"
    assert told(after(session, Action.PULLED)[0])["pull"] is None


def test_lengths_are_in_the_unit_of_the_job() -> None:
    metric = bench_of(plan_of(unit=Unit.CENTIMETRE), TABLE)
    assert told(at_work(), metric)["cut"]["length"] == "203.2 cm"


def test_what_can_be_asked_for_is_told_with_its_keys_and_why_the_rest_cannot() -> None:
    why = possible(told(at_work()))
    assert why["next stop"] == why["cut done"] == why["light left"] == ""
    assert why["undo"] == "there is nothing to take back"
    assert why["previous stop"] == "this is the first stop"
    assert why["light back"] == "the light lies where it should"
    assert why["replan"] == "not planned anew: that is for a real table"
    keys = {one["action"]: one["keys"] for one in told(at_work())["actions"]}
    assert keys["next stop"] == ["Page Down", "Space bar"]


def test_the_question_of_a_tick_has_its_answers() -> None:
    state = told(after(at_work(), Action.NEXT_STOP, Action.NEXT_STOP)[0])
    assert (state["page"], state["text"][0]["says"]) == ("is_it_cut", "Is it cut?")
    assert [(one["action"], one["says"]) for one in state["offers"]][:2] == [
        ("next stop", "yes: tick it"),
        ("previous stop", "not yet"),
    ]


def test_notices_of_the_calibration_and_checks_of_the_stop_are_told() -> None:
    meeting = meeting_of(TABLE, ("It was made on another screen.",))
    cutting = Cutting(BENCH, TABLE, not_kept, meeting=meeting)
    state = cutting.publish()
    assert state["notices"] == ["It was made on another screen."]
    checks = {one["name"]: (one["says"], one["good"]) for one in state["checks"]}
    assert checks["Calibration"] == ("of no known day", False)
    assert checks["Cloth"] == ("not laid by its print: lay it, by motif points", False)


@given(st.lists(st.sampled_from(REQUESTS), max_size=12), st.booleans())
def test_every_state_can_be_told_and_only_what_is_possible_changes_anything(
    actions: list[Action], checked: bool
) -> None:
    meeting = meeting_of(TABLE) if checked else None
    session = after(begin(BENCH.plan, (), meeting, area=BENCH.area), *actions)[0]
    for name, why_not in possible(told(session)).items():
        action = parse(name)
        assert isinstance(action, Action)
        new, events = press(session, action, math.inf)
        if why_not:
            assert not events
            assert replace(new, told="", fresh_tick=False, just_ticked=False) == replace(
                session, told="", fresh_tick=False, just_ticked=False
            )
    assert {written(action) for action in REQUESTS} == set(possible(told(session)))
