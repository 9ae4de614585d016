"""The session as JSON values: what a page shows, and what may be asked for."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.model.choices import Unit
from jobs.model.plan import Plan
from projector.session.actions import Action, parse, written
from projector.session.cutting.journal import not_kept
from projector.session.cutting.mode import Cutting
from projector.session.cutting.publish import Check, checks_of, worst_error_in
from projector.session.cutting.reducer import press
from projector.session.cutting.startup_check import startup_check_of
from projector.session.cutting.state import Session, setup_of
from projector.session.keys import DEFAULT_KEYS
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, at_work, begun
from tests.projector.session.tables import table_of

TABLE = table_of(960, 540)
BENCH = setup_of(plan_of(), TABLE)
REQUESTS = [action for action in Action if action in DEFAULT_KEYS.values()]


def told(session: Session) -> dict[str, Any]:
    """What is published, as it arrives at the other end."""
    sent = Cutting(session, not_kept).publish()
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
    assert state["page"] == "orientation"
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
    assert told(at_work(plan=plan_of(unit=Unit.CENTIMETRE)))["cut"]["length"] == "203.2 cm"


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
    meeting = startup_check_of(TABLE, ("It was made on another screen.",))
    state = told(begun(setup_of(plan_of(), TABLE), check=meeting))
    assert state["notices"] == ["It was made on another screen."]
    checks = {one["name"]: (one["says"], one["good"]) for one in state["checks"]}
    assert checks["Calibration"] == ("of no known day", False)
    assert checks["Cloth"] == ("not laid by its print: lay it, by motif points or a photograph", False)


@given(st.lists(st.sampled_from(REQUESTS), max_size=12), st.booleans())
def test_every_state_can_be_told_and_only_what_is_possible_changes_anything(
    actions: list[Action], checked: bool
) -> None:
    meeting = startup_check_of(TABLE) if checked else None
    session = after(begun(check=meeting), *actions)[0]
    for name, why_not in possible(told(session)).items():
        action = parse(name)
        assert isinstance(action, Action)
        new, events = press(session, action, math.inf)
        if why_not:
            assert not events
            assert replace(new, status="", fresh_tick=False, just_ticked=False) == replace(
                session, status="", fresh_tick=False, just_ticked=False
            )
    assert {written(action) for action in REQUESTS} == set(possible(told(session)))


TODAY = date(2026, 11, 25)


def checks(made: str = "", tolerance: Fraction | None = None, plan: Plan | None = None) -> dict[str, Check]:
    plan = plan or plan_of()
    if tolerance is not None:
        plan = plan.with_job(replace(plan.job, tolerance=tolerance))
    session = at_work(plan=setup_of(plan, replace(TABLE, date=made)))
    return {check.name: check for check in checks_of(session, TODAY)}


def test_a_cut_line_is_held_against_what_the_job_allows() -> None:
    worst = worst_error_in(at_work(plan=setup_of(plan_of(), TABLE)))
    assert worst is not None
    assert checks(tolerance=Fraction(worst) * 2)["Cut lines"].good
    assert not checks(tolerance=Fraction(worst) / 2)["Cut lines"].good


def test_plain_cloth_is_not_asked_to_be_laid() -> None:
    plan = plan_of()
    plain = plan.with_job(replace(plan.job, cloth=replace(plan.job.cloth, repeat=None)))
    assert set(checks(plan=plain)) == {"Calibration", "Cut lines"}


@pytest.mark.parametrize(
    ("made", "said", "good"),
    [
        ("2026-11-25", "of today", True),
        ("2026-11-24", "of yesterday", True),
        ("2026-11-22", "3 days old", True),
        ("2026-09-01", "85 days old", False),
        ("2027-01-01", "of no known day", False),
        ("", "of no known day", False),
    ],
)
def test_an_old_calibration_gives_pause(made: str, said: str, good: bool) -> None:
    check = checks(made)["Calibration"]
    assert (check.said, check.good) == (said, good)
