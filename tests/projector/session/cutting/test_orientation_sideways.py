"""A session with cloth run sideways: when a cut may be ticked, what is asked of a turned panel, what is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from jobs.journal.placed import fingerprint
from jobs.model.choices import Panels, Run, Symmetry
from jobs.model.plan import Plan
from jobs.model.print import Print, Repeat
from jobs.planning.planner import plan_job
from projector.scene.marks import Kind, Stroke, Text
from projector.session.actions import Action
from projector.session.cutting.journal import Done
from projector.session.cutting.orientation import orientation_text
from projector.session.cutting.pages import Page
from projector.session.cutting.publish import publish
from projector.session.cutting.reducer import press
from projector.session.cutting.state import Session
from projector.session.keys import DEFAULT_KEYS
from tests.jobs.made import cloth, job, window
from tests.projector.session.sessions import after, begun, lit, seen, setup

F = Fraction
AREA = ((-5.0, -4.0), (100.0, -4.0), (100.0, 120.0), (-5.0, 120.0))


def planned(table: int = 96, **more: object) -> Plan:
    """A mirrored pair 108 in high and 66 long on cloth 118 in wide, its right panel turned."""
    of = cloth(
        width=F(118), selvedge=F(1), run=Run.SIDEWAYS, repeat=Repeat(F(24), F(10)),
        print=Print(side_to_side=Symmetry.MIRROR),
    )  # fmt: skip
    bay = window("Bay", 90, Panels.PAIR, cuts_per_panel=None, rod=F(60), **more)
    return plan_job(job(of, bay, heading=8, hem=10, side_hem=3, squaring=1), F(table))


def at_work(plan: Plan, done: tuple[str, ...] = ()) -> Session:
    return press(begun(setup(plan, AREA), done), Action.ANY_OTHER)[0]


def test_one_key_cuts_the_whole_job() -> None:
    session, done = at_work(planned()), []
    for _ in range(12):
        session, events = after(seen(session), Action.NEXT_STOP)
        done += [event.cut for event in events if isinstance(event, Done)]
    assert done == ["bay-left", "bay-right"]


def test_a_long_panel_is_ticked_only_where_its_last_edge_is_lit() -> None:
    plan = planned(table=48)
    session = at_work(plan)
    assert [stop.shows[2:] for stop in plan.stops if stop.placement.cut.id == "bay-left"] == [("return",), ("leading",)]
    asked, events = after(session, Action.CUT_DONE)
    assert (asked.page, events) == (Page.IS_IT_CUT, [])
    there, _ = after(session, Action.NEXT_STOP)
    _, events = after(there, Action.CUT_DONE)
    assert events == [Done("bay-left")]


def test_before_a_turned_panel_it_is_asked_whether_the_top_lies_nearest() -> None:
    plan = planned()
    session = at_work(plan, ("bay-left",))
    assert session.page is Page.ORIENTATION
    said = orientation_text(session.placement.cut, session.answered, DEFAULT_KEYS, can_go_back=False)
    assert "Its TOP is to lie NEAREST YOU, its foot away from you." in [line for line, _ in said]
    session, _ = after(session, Action.NEXT_STOP)
    said = orientation_text(session.placement.cut, session.answered, DEFAULT_KEYS, can_go_back=False)
    assert "At your RIGHT: leading edge. At your left: return edge." in [line for line, _ in said]


def test_the_picture_of_the_question_shows_the_panel_as_it_lies() -> None:
    plan = planned()
    scene = lit(at_work(plan, ("bay-left",)))
    words = {mark.text: mark.at for mark in scene.marks if isinstance(mark, Text)}
    assert words["TOP"][1] < words["FOOT"][1]
    assert words["return edge"][0] < words["TOP"][0] < words["leading edge"][0]
    (asked,) = [m for m in scene.of(Kind.TOP) if isinstance(m, Stroke) and len(m.points) == 2]
    assert asked.points[0][1] == asked.points[1][1] < words["TOP"][1]


def test_others_are_told_where_the_top_lies_and_which_edges_are_lit() -> None:
    state = publish(replace(begun(planned(), ()), page=Page.STOP, cautions_read=True), date(2026, 11, 25))
    assert state["cut"]["top"] == "away from you"
    assert state["stop"]["shows"] == ["top", "foot", "leading", "return"]


def test_a_panel_that_lies_elsewhere_across_the_cloth_is_another_plan() -> None:
    plan = planned()
    moved = tuple(
        replace(p, cut=replace(p.cut, across=(p.cut.across[0] - 1, p.cut.across[1] - 1))) for p in plan.placements
    )
    assert fingerprint(plan) != fingerprint(replace(plan, placements=moved))
