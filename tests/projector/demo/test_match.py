"""A pair cut by light on cloth that is 1 % long, skewed and bowed: laid with key L it matches, unlaid it does not."""

from __future__ import annotations

from pathlib import Path

from jobs.model.plan import Plan
from projector.commands.shared.loading import load_job
from projector.commands.shared.practice import match_lines
from projector.demo.cloth import AsItLies
from projector.demo.match import matches
from projector.demo.setup import cloth_at, demo_setup
from projector.scene.lit_stretch import plan_on_table
from projector.session.actions import Action
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import press
from projector.session.cutting.registering import point_at
from projector.session.cutting.state import Session
from tests.projector.session.sessions import begun

LIES = AsItLies()
JOB = Path("jobs/examples/reading_room.yaml")
SIDEWAYS = Path("jobs/examples/tram_depot.yaml")


def the_plan(path: Path = JOB) -> Plan:
    job = load_job(path)
    return plan_on_table(job, demo_setup(job).table.lit_area())


def lay_here(plan: Plan, session: Session) -> Session:
    """Key L, and motif points confirmed to the nearest 64th where they really lie, until the light follows them."""
    session, _ = press(session, Action.LAY)
    while session.page is Page.MARKING:
        assert session.marking is not None
        x, y = cloth_at(plan, session.stop, LIES).motif_points([session.marking.aimed])[0].tolist()
        session, _ = press(point_at(session, (x, y)), Action.CUT_DONE)
    return press(session, Action.CUT_DONE)[0]


def cut_all(plan: Plan, with_laying: bool) -> Session:
    session, _ = press(begun(plan), Action.ANY_OTHER)
    while session.left_to_cut:
        if with_laying and session.page is Page.STOP and not session.is_registered_here:
            session = lay_here(plan, session)
        session, _ = press(session, Action.NEXT_STOP)
    return session


def missed_in(plan: Plan, session: Session) -> float:
    fits = zip(session.done, session.ticked_at, session.cut_by, strict=True)
    (match,) = matches(plan, {cut: (session.stops[at], fit) for cut, at, fit in fits}, LIES)
    return match.missed_in


def test_a_pair_laid_with_key_l_matches_within_a_sixteenth_and_unlaid_it_is_far_off() -> None:
    plan = the_plan()
    assert missed_in(plan, cut_all(plan, with_laying=True)) < 1 / 16
    # 1 % of a cut of 93 in alone is more than 7/8 in.
    assert missed_in(plan, cut_all(plan, with_laying=False)) > 7 / 8


def test_a_pair_run_sideways_laid_with_key_l_matches_at_its_own_edges() -> None:
    plan = the_plan(SIDEWAYS)
    assert missed_in(plan, cut_all(plan, with_laying=True)) < 1 / 16
    # A panel is 98 in along the piece, of which the cloth is 1 % long.
    assert missed_in(plan, cut_all(plan, with_laying=False)) > 7 / 8


def test_the_match_is_said_in_inches() -> None:
    plan = the_plan()
    (line,) = match_lines(plan, cut_all(plan, with_laying=True), LIES)
    assert "the pair matches to within" in line
    assert line.endswith("in over the whole cloth width")


def test_cloth_as_planned_needs_no_laying() -> None:
    plan = the_plan()
    session = cut_all(plan, with_laying=False)
    fits = zip(session.done, session.ticked_at, session.cut_by, strict=True)
    (match,) = matches(plan, {cut: (session.stops[at], fit) for cut, at, fit in fits}, None)
    assert match.missed_in < 1e-9
