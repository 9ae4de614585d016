"""Pins along the heading, the stiffener line and the inner folds of doubled hems."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job, read_job
from jobs.model.choices import TurnedOver
from jobs.model.cuts import Edge
from jobs.model.job import Pins
from jobs.model.plan import Plan
from jobs.planning.planner import plan_job
from projector.scene.cut_lines import pin_places
from projector.scene.lit_stop import lit_stop
from projector.scene.marks import Kind, Stroke
from projector.scene.stop_scene import Layers, scene_of_stop
from tests.projector.scene.plans import plan_of

F = Fraction
EXAMPLES = Path(__file__).parents[3] / "jobs" / "examples"


def sewn(plan: Plan, **keys: object) -> Plan:
    return plan.with_job(replace(plan.job, **keys))  # type: ignore[arg-type]


def marks_of(plan: Plan, stop: int, kind: Kind) -> list[Stroke]:
    scene = scene_of_stop(plan, plan.stops[stop], layers=Layers(letters=False))
    return [mark for mark in scene.of(kind) if isinstance(mark, Stroke)]


def test_a_job_that_names_none_of_it_is_lit_as_before() -> None:
    for cloth in (one for example in EXAMPLES.glob("*.yaml") for one in jobs_of_cloths(read_job(example))):
        plan = plan_job(cloth.job)
        for number in range(len(plan.stops)):
            assert not marks_of(plan, number, Kind.PIN)
            assert not marks_of(plan, number, Kind.STIFFENER)


def test_pins_are_spread_evenly_no_farther_apart_than_asked() -> None:
    # 50 wide, first and last 1 inside: 48 between, 4 1/2 at most, so 11 steps of 48/11.
    places = pin_places(F(50), Pins(F(9, 2), F(1)))
    assert places == tuple(1 + k * F(48, 11) for k in range(12))


@given(st.fractions(F(1, 8), 400, max_denominator=64), st.fractions(F(1, 2), 20, max_denominator=16), st.integers(0, 5))
@settings(max_examples=60)
def test_pins_lie_inside_any_panel_the_same_from_both_sides(width: F, spacing: F, from_side: int) -> None:
    places = pin_places(width, Pins(spacing, F(from_side)))
    assert [width - place for place in reversed(places)] == list(places)
    assert all(0 <= place <= width for place in places)
    assert all(b - a <= spacing for a, b in pairwise(places))


def test_pins_stand_astride_the_finished_top_of_an_upright_and_of_a_turned_cut() -> None:
    plan = sewn(plan_of(), pins=Pins(F(6)))
    for stop in (0, 1):
        lit = lit_stop(plan, plan.stops[stop])
        edge = lit.placement.cut.top_edge
        top = lit.at(edge) - edge.sense * 4
        ticks = marks_of(plan, stop, Kind.PIN)
        # Finished sides 2 1/2 from each selvedge edge of 54: 49 wide, 47 between the outer pins, 8 steps of 5 7/8.
        assert len(ticks) == 9
        assert {round((tick.points[0][0] + tick.points[1][0]) / 2, 9) for tick in ticks} == {round(top, 9)}
        assert sorted(tick.points[0][1] for tick in ticks) == pytest.approx([3.5 + k * 5.875 for k in range(9)])


def test_pins_run_on_evenly_over_the_seams_of_a_joined_panel() -> None:
    text = """
job: Weir-keeper's long room
units: in
cloth: {width: 56, selvedge: 1/2, repeat: {along: 14, across: 13 3/4}}
allowances: {heading: 4, hem: 8, side_hem: 2, seam: 1/2}
pins: {spacing: 5}
windows: [{name: Long, panels: pair, hang: same, finished_length: 60, cuts_per_panel: 3}]
table: {length: 120, width: 60}
"""
    plan = plan_job(parse_job(text, "long.yaml"))
    assert plan.job.pins is not None
    for hand in {cut.hand for cut in plan.cuts}:
        found: set[F] = set()
        before = F(0)
        stops = {s.placement.cut.number: s for s in plan.stops if s.placement.cut.hand is hand and "top" in s.shows}
        assert sorted(stops) == [1, 2, 3]
        for number in (1, 2, 3):
            lit = lit_stop(plan, stops[number])
            cut = lit.placement.cut
            leads = F(lit.at(cut.leading_edge, cut.leading_side.line))
            for tick in marks_of(plan, plan.stops.index(stops[number]), Kind.PIN):
                y = F(tick.points[0][1]).limit_denominator(4096)
                found.add(before + abs(y - leads))
            before += cut.finished_width
        steps = sorted(found)
        apart = [b - a for a, b in pairwise(steps)]
        assert steps[0] == before - steps[-1] == 1
        # Positions pass through floats on their way: back to 1/4096 in.
        assert max(apart) - min(apart) < F(1, 1000)
        assert max(apart) <= 5


def test_the_stiffener_lies_below_the_cut_edge_of_the_heading() -> None:
    plan = sewn(plan_of(), stiffener=F(5, 8))
    for stop in (0, 1):
        lit = lit_stop(plan, plan.stops[stop])
        (x,) = {x for mark in marks_of(plan, stop, Kind.STIFFENER) for x, _ in mark.points}
        edge = lit.placement.cut.top_edge
        assert x == pytest.approx(lit.at(edge) - edge.sense * 0.625)
        assert lit.cut.left < x < lit.cut.right


def test_doubled_hems_show_a_second_fold_half_a_hem_outside_the_first() -> None:
    plain, plan = plan_of(), sewn(plan_of(), doubled=(TurnedOver.HEM, TurnedOver.SIDE_HEM))
    lit = lit_stop(plan, plan.stops[0])
    before = {mark.points for mark in marks_of(plain, 0, Kind.FOLD)}
    added = {mark.points for mark in marks_of(plan, 0, Kind.FOLD)} - before
    across = {a[0] for a, b in added if a[0] == b[0]}
    along = {a[1] for a, b in added if a[1] == b[1]}
    assert sorted(across) == pytest.approx([lit.at(Edge.LAST) - 4])
    # Side hem 2 inside the selvedge strip of 1/2: folds 2 1/2 from the edges, inner ones 1 1/2.
    assert sorted(along) == pytest.approx([1.5, 52.5])


def test_the_layer_of_pins_can_be_darkened() -> None:
    plan = sewn(plan_of(), pins=Pins(F(6)), stiffener=F(1, 2))
    scene = scene_of_stop(plan, plan.stops[0], layers=Layers(pins=False))
    assert not scene.of(Kind.PIN)
    assert scene.of(Kind.STIFFENER)
