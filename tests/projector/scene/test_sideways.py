"""What is lit for a cut of cloth run sideways: its edges across the cloth, top and foot along it, TOP where it lies."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jobs.cutting.resolve import resolve
from jobs.model.choices import Panels, Run, Symmetry, TurnedOver
from jobs.model.cloth import Cloth
from jobs.model.job import Job, Pins
from jobs.model.plan import Plan
from jobs.model.print import Print, Repeat
from jobs.model.window import Window
from jobs.planning.planner import plan_job
from projector.scene.lettering import box_of
from projector.scene.marks import Kind, Scene, Stroke, Text
from projector.scene.stop_scene import scene_of_stop
from tests.jobs.cutting.test_sideways_properties import sideways_jobs
from tests.jobs.made import cloth, job, window

F = Fraction


def tall(**more: object) -> Cloth:
    return cloth(width=F(118), selvedge=F(1), run=Run.SIDEWAYS, **more)


def made(of: Cloth, panels: Panels = Panels.PAIR, finished: int = 90) -> Job:
    bay: Window = window("Bay", finished, panels, cuts_per_panel=None, rod=F(60))
    return job(of, bay, heading=8, hem=10, side_hem=3, squaring=1)


def planned(one: Job, table: int | None = None) -> Plan:
    return plan_job(one, None if table is None else F(table))


def lit(one: Job, stop: int = 0, table: int | None = None, reach: float | None = None) -> Scene:
    plan = planned(one, table)
    return scene_of_stop(plan, plan.stops[stop], lit_width_in=reach)


def straight(scene: Scene, kind: Kind) -> set[tuple[tuple[float, float], ...]]:
    return {mark.points for mark in scene.of(kind) if isinstance(mark, Stroke)}


def levels(scene: Scene, kind: Kind) -> set[float]:
    """Heights of the lines that run along the cloth."""
    return {a[1] for a, b in straight(scene, kind) if a[1] == b[1] and abs(a[0] - b[0]) > 2}


def uprights(scene: Scene, kind: Kind) -> set[float]:
    return {a[0] for a, b in straight(scene, kind) if a[0] == b[0] and abs(a[1] - b[1]) > 2}


def word(scene: Scene, text: str) -> Text:
    return next(mark for mark in scene.marks if isinstance(mark, Text) and mark.text == text)


def test_the_cut_lines_run_from_selvedge_to_selvedge_at_the_leading_and_the_return_edge() -> None:
    # The first cut lies from 1 to 67; the table begins where the piece does.
    scene = lit(made(tall()))
    assert {((1.0, 0.0), (1.0, 118.0)), ((67.0, 0.0), (67.0, 118.0))} <= straight(scene, Kind.CUT)
    assert levels(scene, Kind.CUT) == set()


def test_top_and_foot_are_trimmed_along_the_cloth() -> None:
    # 108 in of height below the printed edge at 117; the line to square the first end runs across at 1.
    scene = lit(made(tall()))
    assert levels(scene, Kind.TRIM) == {117.0, 9.0}


def test_heading_and_hem_fold_along_the_cloth_and_side_hems_across_it() -> None:
    scene = lit(made(tall()))
    assert levels(scene, Kind.FOLD) == {117.0 - 8, 9.0 + 10}
    assert uprights(scene, Kind.FOLD) == {1.0 + 3, 67.0 - 3}


def test_doubled_hems_have_their_inner_folds_and_the_stiffener_its_line() -> None:
    one = replace(made(tall()), doubled=(TurnedOver.HEM, TurnedOver.SIDE_HEM), stiffener=F(3, 4))
    scene = lit(one)
    assert levels(scene, Kind.FOLD) == {109.0, 19.0, 14.0}
    assert uprights(scene, Kind.FOLD) == {4.0, 64.0, 2.5, 65.5}
    assert levels(scene, Kind.STIFFENER) == {116.25}


def test_what_shrinks_along_makes_the_side_hems_wider_as_cut() -> None:
    # 66 / (1 - 1/12) = 72 along, of which each hem takes 3 / (11/12) = 36/11.
    scene = lit(made(tall(shrinkage=F(1, 12))))
    assert sorted(uprights(scene, Kind.FOLD)) == pytest.approx([float(1 + F(36, 11)), float(73 - F(36, 11))])


def test_top_stands_at_the_far_selvedge_with_chevrons_that_point_to_it() -> None:
    scene = lit(made(tall()))
    top = word(scene, "TOP")
    assert 100 < top.at[1] < 117
    assert word(scene, "FOOT").at[1] < 20
    chevrons = [mark.points for mark in scene.of(Kind.TOP) if isinstance(mark, Stroke)]
    assert len(chevrons) == 2
    for (x0, y0), (x1, y1), (x2, y2) in chevrons:
        assert y1 > y0 == y2
        assert x0 < x1 < x2


def test_a_turned_panel_has_top_at_the_near_selvedge_its_letters_still_upright_for_the_person() -> None:
    one = made(tall(repeat=Repeat(F(24), F(10)), print=Print(side_to_side=Symmetry.MIRROR)))
    scene = lit(one, stop=1)
    top = word(scene, "TOP")
    assert 1 < top.at[1] < 20
    assert top.turn_deg == 0
    for (_, y0), (_, y1), (_, y2) in (mark.points for mark in scene.of(Kind.TOP) if isinstance(mark, Stroke)):
        assert y1 < y0 == y2


@pytest.mark.parametrize(("stop", "leads_right"), [(0, True), (1, False)])
def test_each_edge_is_named_beside_its_cut_line(stop: int, leads_right: bool) -> None:
    scene = lit(made(tall()), stop)
    leading, returning = word(scene, "leading edge"), word(scene, "return edge")
    assert (leading.at[0] > returning.at[0]) is leads_right


def test_a_whole_panel_is_named_by_its_sides_as_it_hangs() -> None:
    scene = lit(made(tall(), Panels.WHOLE))
    assert word(scene, "left side").at[0] < word(scene, "right side").at[0]


def test_letters_keep_off_each_other_and_off_the_lines_that_are_cut() -> None:
    for stop in (0, 1):
        scene = lit(made(tall()), stop)
        boxes = [box_of(mark) for mark in scene.marks if isinstance(mark, Text)]
        assert not any(a.overlaps(b) for a in boxes for b in boxes if a is not b)
        for x in uprights(scene, Kind.CUT):
            assert not any(box.left < x < box.right for box in boxes)
        named = [mark for mark in scene.marks if isinstance(mark, Text) and mark.text == "trim"]
        assert {mark.at[1] for mark in named} == levels(scene, Kind.TRIM)
        for y in levels(scene, Kind.TRIM):
            assert not any(box.near < y < box.far for box in boxes if box not in map(box_of, named))


def test_on_a_short_table_the_top_is_lit_at_every_pull_and_each_edge_once_it_is_reached() -> None:
    one = made(tall(), Panels.WHOLE)
    plan = planned(one, 60)
    assert [stop.shows[2:] for stop in plan.stops] == [("return",), (), ("leading",)]
    for stop in plan.stops:
        scene = scene_of_stop(plan, stop)
        assert word(scene, "TOP")
        assert len(uprights(scene, Kind.CUT)) == len(stop.shows) - 2


def test_where_the_light_does_not_reach_the_top_the_way_to_it_is_shown() -> None:
    scene = lit(made(tall()), reach=70)
    assert word(scene, "to the top")
    assert word(scene, "FOOT").at[1] < 70
    assert not [mark for mark in scene.marks if isinstance(mark, Text) and mark.text == "TOP"]
    assert levels(scene, Kind.TRIM) == {9.0}
    assert levels(scene, Kind.FOLD) == {19.0}


def test_where_the_light_does_not_reach_the_panel_at_all_its_ends_are_lit() -> None:
    # 20 + 18 in of height lie from 79 to 117; the light ends at 60.
    scene = lit(made(tall(), finished=20), reach=60)
    assert uprights(scene, Kind.CUT) == {1.0, 67.0}


def test_pins_stand_on_the_finished_top_from_fold_to_fold() -> None:
    scene = lit(replace(made(tall()), pins=Pins(F(10), F(1))))
    # 60 in between the folds at 4 and 64: six steps of 58/6 from 5 to 63, counted from the leading fold.
    pins = sorted(a[0] for a, _ in straight(scene, Kind.PIN))
    assert pins == pytest.approx([5 + 58 * k / 6 for k in range(7)])
    assert {(a[1] + b[1]) / 2 for a, b in straight(scene, Kind.PIN)} == {109.0}


def test_a_panel_that_is_done_is_hatched_from_foot_to_top() -> None:
    plan = planned(made(tall()))
    scene = scene_of_stop(plan, plan.stops[0], done=frozenset({plan.stops[0].placement.cut.id}))
    (hatch,) = scene.of(Kind.DONE)[:1]
    heights = {y for _, y in hatch.outline}  # type: ignore[union-attr]
    assert {min(heights), max(heights)} == {9.0, 117.0}
    assert not scene.of(Kind.CUT)


def test_panels_one_above_the_other_are_slit_apart_and_parted_each_at_its_own_height() -> None:
    # 40 + 18 = 58 in each: the left one from 59 to 117, the right one from 1 to 59, both from 1 to 67 along.
    one = made(tall(), finished=40)
    upper, lower = lit(one, 0), lit(one, 1)
    # Cut off from selvedge to selvedge first.
    assert ((1.0, 0.0), (1.0, 118.0)) in straight(upper, Kind.CUT)
    assert ((1.0, 0.0), (1.0, 118.0)) in straight(lower, Kind.CUT)
    assert levels(upper, Kind.CUT) == levels(lower, Kind.CUT) == {59.0}
    assert levels(upper, Kind.TRIM) == {117.0}
    assert levels(lower, Kind.TRIM) == {1.0}
    assert word(upper, "TOP").at[1] > 100
    assert 40 < word(lower, "TOP").at[1] < 59


def test_letters_of_a_panel_below_another_keep_off_the_slit() -> None:
    scene = lit(made(tall(), finished=40), 1)
    boxes = [box_of(mark) for mark in scene.of(Kind.TOP, Kind.LETTER) if isinstance(mark, Text)]
    assert len(boxes) > 3
    assert all(box.far < 59.0 for box in boxes)


@settings(max_examples=40)
@given(sideways_jobs(), st.sampled_from([60, 130]), st.sampled_from([None, 55.0, 90.0]))
def test_whatever_is_laid_is_lit_with_its_letters_apart_and_in_the_light(
    one: Job, table: int, reach: float | None
) -> None:
    assume(not resolve(one).problems)
    plan = plan_job(one, F(table))
    for stop in plan.stops:
        scene = scene_of_stop(plan, stop, lit_width_in=reach)
        boxes = [box_of(mark) for mark in scene.of(Kind.TOP, Kind.LETTER) if isinstance(mark, Text)]
        assert not any(a.overlaps(b) for a in boxes for b in boxes if a is not b)
        assert all(box.far <= (reach or 110) and box.near >= 0 for box in boxes)
        assert len(uprights(scene, Kind.CUT)) == len(stop.shows) - 2
