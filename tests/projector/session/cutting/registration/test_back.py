"""Looking back at a cut that is made: its panel may be laid back and photographed, and what that is told."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date

import pytest

from jobs.io.reader import parse_job
from jobs.model.plan import Plan
from jobs.planning.mates import meetings_of
from jobs.planning.planner import plan_job
from projector.page.form.blank import examples
from projector.session.actions import Action, Match, UnknownAction, parse, written
from projector.session.cutting.pages import Page
from projector.session.cutting.photographed import read_asked
from projector.session.cutting.publish import checks_of
from projector.session.cutting.state import Session, ToMatch
from tests.projector.session.cutting.registration.test_marking import truth_at
from tests.projector.session.sessions import after, at_work, cutting_of, key

LEFT, RIGHT = "river-window-left", "river-window-right"


@pytest.fixture(scope="module")
def room() -> Plan:
    return plan_job(parse_job(examples()["Mill-race reading room"], "the job"))


def back_at(plan: Plan, done: tuple[str, ...]) -> Session:
    """A session that looks at the stop of the left panel."""
    session = at_work(plan=plan, done=done)
    while session.placement.cut.id != LEFT:
        session, _ = after(session, Action.PREVIOUS_STOP)
    return session


def test_a_cut_that_is_made_is_photographed_laid_back_and_its_mates_are_told(room: Plan) -> None:
    cutting = cutting_of(room)
    cutting.state = back_at(room, (LEFT,))
    assert ("will its mate match?", Action.PHOTOGRAPH) in cutting.offers
    assert Action.LAY not in [action for _, action in cutting.offers]
    key(cutting, "V")
    assert cutting.state.page is Page.PATTERN
    assert Action.LAY not in [action for _, action in cutting.offers]
    told = cutting.publish()
    words = " ".join(one["says"] for one in told["text"])
    assert "Photograph the panel that is cut" in words
    assert "its top at your left" in words
    back = read_asked(json.loads(json.dumps(told["lay"]))).back
    assert back is not None
    left, right = (next(one for one in room.placements if one.cut.id == name) for name in (LEFT, RIGHT))
    assert (back.placed, back.mates, back.done, back.light) == (left, (right,), (LEFT,), None)
    assert meetings_of(back.placed, back.mates) == meetings_of(left, room.placements)
    # Whatever is lit over cloth of these colours, a panel lies under the whole pattern; K says so.
    assert Action.COLOURS not in [action for _, action in cutting.offers]
    assert told["lay"]["on_white"] is False
    key(cutting, "K")
    assert cutting.publish()["lay"]["on_white"] is False
    assert "whole pattern" in cutting.state.status
    key(cutting, "Esc")
    assert (cutting.state.page, cutting.state.done) == (Page.STOP, (LEFT,))


def test_the_light_that_it_was_cut_by_is_told_too(room: Plan) -> None:
    session = back_at(room, (LEFT,))
    light = replace(truth_at(session), lattice=session.setup.lattices[0])
    cutting = cutting_of(room)
    cutting.state = replace(session, cut_by=(light,))
    key(cutting, "V")
    back = read_asked(json.loads(json.dumps(cutting.publish()["lay"]))).back
    assert back is not None
    assert back.light == light


def test_what_is_not_cut_is_laid_as_ever(room: Plan) -> None:
    cutting = cutting_of(room)
    key(cutting, "Space")
    assert ("lay", Action.LAY) in cutting.offers
    key(cutting, "V")
    assert read_asked(json.loads(json.dumps(cutting.publish()["lay"]))).back is None
    assert "Photograph the cloth" in cutting.publish()["text"][0]["says"]


def mate_said(session: Session) -> str:
    (said,) = [one.said for one in checks_of(session, date(2026, 3, 1)) if one.name == "Mate"]
    return said


def test_what_a_panel_tells_of_its_mate_is_read_where_the_mate_is_cut(room: Plan) -> None:
    cutting = cutting_of(room)
    cutting.state = back_at(room, (LEFT,))
    key(cutting, "V")
    told = Match(cutting.state.stop.number, ((RIGHT, -10), ("nobody", 3)))
    assert parse(written(told)) == told
    assert not cutting.act(replace(told, stop=told.stop + 1), 10.0)
    assert cutting.act(told, 10.0)
    assert cutting.state.page is Page.PATTERN
    assert cutting.state.status
    key(cutting, "Esc")
    assert cutting.state.to_match == (ToMatch(RIGHT, LEFT, -10),)
    at = next(number for number, stop in enumerate(room.stops) if stop.placement.cut.id == RIGHT)
    mate = replace(cutting.state, at=at)
    # 5/32: two presses of 1/16 and two of 1/64.
    assert mate_said(mate) == (
        "to match River window, left, 1 of 1: once this is laid, move the light 5/32 in to the left "
        "(Left 2 times, then Ctrl+Left 2 times)"
    )
    # Told anew, the old word is gone; where it matches nothing is moved.
    key(cutting, "V")
    cutting.act(Match(told.stop, ((RIGHT, 0),)), 10.0)
    assert mate_said(replace(cutting.state, at=at)) == "matches River window, left, 1 of 1, cut as planned"


def test_before_it_is_photographed_the_mate_says_that_it_can_be(room: Plan) -> None:
    session = at_work(plan=room, done=(LEFT,))
    assert session.placement.cut.id == RIGHT
    assert "look back at it, and a photograph says whether they match" in mate_said(session)
    assert "Mate" not in [one.name for one in checks_of(at_work(plan=room), date(2026, 3, 1))]


@pytest.mark.parametrize("name", ["match", "match x", "match 1 =3", "match 1 river", "match 1 river=x"])
def test_what_tells_nothing_of_mates_is_no_action(name: str) -> None:
    with pytest.raises(UnknownAction):
        parse(name)
