"""Marks that cannot carry a calibration are refused, with their numbers and what to do."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.mark_checks import (
    check_marks,
    folded,
    off_line,
    spread_out,
    turns,
    wide_triples,
)
from calibration.marks import Mark, outside_frame
from calibration.problems import Code, MarksRefused, Problem
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, marks_of, random_rig

SQUARE_IN = np.array([(0.0, 0), (60, 0), (60, 30), (0, 30)])
SQUARE = np.array([(0.0, 0), (2, 0), (2, 2), (0, 2)])
SQUARE_PX = np.array([(200.0, 900), (1700, 910), (1690, 150), (210, 140)])


def problems_of(marks: tuple[Mark, ...]) -> tuple[Problem, ...]:
    with pytest.raises(MarksRefused) as refused:
        check_marks(marks)
    return refused.value.problems


def test_four_good_marks_pass() -> None:
    check_marks(marks_of(SQUARE_IN, SQUARE_PX))


def test_a_mirrored_rig_is_valid() -> None:
    check_marks(marks_of(SQUARE_IN, SQUARE_PX * (-1, 1) + (WIDTH_PX, 0)))


def test_three_points_are_refused() -> None:
    (problem,) = problems_of(marks_of(SQUARE_IN, SQUARE_PX)[:3])
    assert problem.code == Code.TOO_FEW_MARKS
    assert problem.value("count") == 3


def test_no_points_at_all_are_refused() -> None:
    (problem,) = problems_of(())
    assert problem.code == Code.TOO_FEW_MARKS


def test_more_marks_than_a_person_sets_are_refused_at_once() -> None:
    (problem,) = problems_of(marks_of(SQUARE_IN, SQUARE_PX) * 5000)
    assert problem.code == Code.TOO_MANY_MARKS


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -float("inf"), 1e9])
def test_numbers_that_are_none_are_refused_mark_by_mark(bad: float) -> None:
    marks = list(marks_of(SQUARE_IN, SQUARE_PX))
    marks[1] = Mark((bad, 0), marks[1].pixel)
    marks[3] = Mark(marks[3].table, (1, bad))
    assert [(problem.code, problem.marks) for problem in problems_of(tuple(marks))] == [
        (Code.MARK_IS_NO_PLACE, (2,)),
        (Code.MARK_IS_NO_PLACE, (4,)),
    ]


def test_a_mark_repeated_on_the_table_or_in_the_frame_is_named() -> None:
    table, pixels = SQUARE_IN.copy(), SQUARE_PX.copy()
    table[2] = table[0] + 0.01
    pixels[3] = pixels[1]
    found = problems_of(marks_of(table, pixels))
    assert [(problem.code, problem.marks) for problem in found] == [
        (Code.REPEATED_ON_TABLE, (1, 3)),
        (Code.REPEATED_IN_FRAME, (2, 4)),
    ]


def test_three_of_four_in_line_are_named_on_the_table_and_in_the_frame() -> None:
    table, pixels = SQUARE_IN.copy(), SQUARE_PX.copy()
    table[2] = (30, 0.01)  # 1/100 in off a line of 60
    pixels[2] = (pixels[0] + pixels[3]) / 2
    found = problems_of(marks_of(table, pixels))
    assert [(problem.code, problem.marks) for problem in found] == [
        (Code.IN_LINE_ON_TABLE, (1, 2, 3)),
        (Code.IN_LINE_IN_FRAME, (1, 3, 4)),
    ]


def test_all_marks_in_a_line_are_refused_once() -> None:
    places = np.array([(0.0, 0), (10, 5), (20, 10), (30, 15), (50, 25)])
    found = problems_of(marks_of(places, SQUARE_PX[[0, 1, 2, 3, 0]] + np.arange(5)[:, None] * 9.0))
    assert [(problem.code, problem.marks) for problem in found] == [(Code.IN_LINE_ON_TABLE, (1, 2, 3, 4, 5))]


def test_all_but_one_of_five_in_a_line_are_refused() -> None:
    matrix = random_rig(np.random.default_rng(1))
    pixels = np.array([(100.0, 500), (600, 500), (1100, 500), (1800, 500), (900, 100)])
    found = problems_of(marks_at(matrix, pixels))
    assert [(problem.code, problem.marks) for problem in found] == [
        (Code.IN_LINE_ON_TABLE, (1, 2, 3, 4)),
        (Code.IN_LINE_IN_FRAME, (1, 2, 3, 4)),
    ]


def test_three_in_line_among_five_are_accepted() -> None:
    pixels = np.array([(100.0, 500), (600, 500), (1100, 500), (1700, 900), (900, 100)])
    check_marks(marks_at(random_rig(np.random.default_rng(1)), pixels))


@pytest.mark.parametrize(("first", "second"), [(0, 1), (1, 2), (2, 3), (0, 3)])
def test_two_neighbours_swapped_are_recognised_and_the_right_order_proposed(first: int, second: int) -> None:
    swapped = [0, 1, 2, 3]
    swapped[first], swapped[second] = second, first
    (problem,) = problems_of(marks_of(SQUARE_IN, SQUARE_PX[swapped]))
    assert problem.code == Code.CROSSED_ORDER
    assert problem.marks == (first + 1, second + 1)
    assert problem.value("order") == tuple(index + 1 for index in swapped)  # swapping again puts it right


def test_a_swap_among_nine_marks_folds_the_map() -> None:
    matrix = random_rig(np.random.default_rng(8))
    pixels = np.array([(u, v) for v in (100, 540, 980) for u in (150, 960, 1770)], float)
    order = [0, 1, 2, 3, 7, 5, 6, 4, 8]
    (problem,) = problems_of(marks_of(lit(matrix, pixels), pixels[order]))
    assert problem.code == Code.MAP_FOLDS  # which order is right is weighed among all other slips


def test_a_dented_outline_can_have_no_right_order_and_is_beyond_the_horizon() -> None:
    # On the table a four-cornered outline, in the frame mark 4 inside the triangle of the others.
    pixels = np.array([(200.0, 900), (1700, 900), (1000, 100), (1000, 600)])
    (problem,) = problems_of(marks_of(SQUARE_IN, pixels))
    assert problem.code == Code.MAP_FOLDS


def test_a_pixel_outside_the_frame_is_allowed_but_can_be_told() -> None:
    pixels = SQUARE_PX.copy()
    pixels[2] = (2050, 150)
    marks = marks_of(SQUARE_IN, pixels)
    check_marks(marks)
    assert outside_frame(marks, WIDTH_PX, HEIGHT_PX) == (3,)


def test_the_corners_of_the_frame_itself_are_not_outside() -> None:
    marks = marks_of(SQUARE_IN, np.array([(0.0, HEIGHT_PX), (WIDTH_PX, HEIGHT_PX), (WIDTH_PX, 0), (0, 0)]))
    assert outside_frame(marks, WIDTH_PX, HEIGHT_PX) == ()


@settings(max_examples=60)
@given(seed=st.integers(0, 10**6), mirrored=st.booleans(), count=st.integers(4, 9))
def test_marks_of_any_honest_rig_pass(seed: int, mirrored: bool, count: int) -> None:
    rng = np.random.default_rng(seed)
    matrix = random_rig(rng, mirrored=mirrored)
    extra = rng.uniform((200, 200), (WIDTH_PX - 200, HEIGHT_PX - 200), (count - 4, 2))
    pixels = np.vstack([CORNERS, extra])
    check_marks(marks_of(lit(matrix, pixels) + rng.normal(0, 1 / 100, (count, 2)), pixels))


@settings(max_examples=40)
@given(seed=st.integers(0, 10**6), data=st.data())
def test_any_wrong_order_of_four_corners_is_refused(seed: int, data: st.DataObject) -> None:
    order = data.draw(st.permutations(range(4)))
    matrix = random_rig(np.random.default_rng(seed))
    marks = marks_of(lit(matrix, CORNERS), CORNERS[order])
    step = (order[1] - order[0]) % 4
    runs_round = step in (1, 3) and all((order[i] - order[i - 1]) % 4 == step for i in range(4))
    if runs_round:
        check_marks(marks)  # another corner first, or mirrored: a rig that can exist
    else:
        assert problems_of(marks)[0].code == Code.CROSSED_ORDER


def test_one_line_pasted_fifty_times_is_told_once() -> None:
    marks = marks_of(np.tile((10.0, 10.0), (50, 1)), np.tile((400.0, 800.0), (50, 1)))
    problems = problems_of(marks)
    assert [problem.code for problem in problems] == [Code.REPEATED_ON_TABLE, Code.REPEATED_IN_FRAME]
    assert problems[0].marks == tuple(range(1, 51))


def test_a_perfect_line_is_off_by_nothing_and_one_point_by_its_share() -> None:
    assert off_line(np.array([(0.0, 0), (1, 2), (3, 6)])) == pytest.approx(0, abs=1e-12)
    # Two ends 100 apart, a point in the middle 3 off: best line 1 off the ends, 2 off the point.
    assert off_line(np.array([(0.0, 0), (50, 3), (100, 0)])) == pytest.approx(0.02)


def test_points_all_at_one_place_are_in_line() -> None:
    assert off_line(np.ones((4, 2))) == 0.0


def test_a_triple_turns_from_x_towards_y_by_twice_its_area() -> None:
    assert turns(SQUARE, np.array([[0, 1, 2], [0, 3, 2]])).tolist() == [4.0, -4.0]


def test_thin_triples_are_left_out() -> None:
    points = np.array([(0.0, 0), (10, 0), (5, 0.1), (5, 8)])
    assert [0, 1, 2] not in wide_triples(points, 0.05).tolist()
    assert len(wide_triples(points, 0.001)) == 4


def test_of_many_points_every_one_is_in_some_triple() -> None:
    points = np.random.default_rng(1).uniform(0, 10, (60, 2))
    triples = wide_triples(points, 0.05)
    assert set(triples.ravel().tolist()) == set(range(60))
    assert len(triples) < 12 * 11 / 2 * 60


def test_spread_out_points_begin_with_the_farthest() -> None:
    assert set(spread_out(np.vstack([SQUARE, [(1.0, 1.1)]]), 4).tolist()) == {0, 1, 2, 3}


@pytest.mark.parametrize("mirrored", [False, True])
def test_triples_that_turn_the_other_way_than_most_are_the_folded_ones(mirrored: bool) -> None:
    # Four corners and a middle; then the pixel of one corner is pulled across the middle.
    table = np.array([(0.0, 0), (10, 0), (10, 10), (0, 10), (4, 5)])
    pixels = table * (-1 if mirrored else 1, 1)
    triples = wide_triples(table, 0.05)
    assert not folded(table, pixels, triples).any()
    pixels[2] = pixels[4] + (pixels[4] - pixels[2]) / 4
    flagged = folded(table, pixels, triples)
    assert 0 < flagged.sum() < len(triples) / 2
    assert all(2 in triple for triple in triples[flagged])
