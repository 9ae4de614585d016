"""Plain facts about points in a plane."""

from __future__ import annotations

import numpy as np
import pytest

from calibration.shapes import clip_half_plane, off_line, spread_out, turns, wide_triples

SQUARE = np.array([(0.0, 0), (2, 0), (2, 2), (0, 2)])


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


def test_a_square_is_clipped_by_a_line_through_it() -> None:
    np.testing.assert_allclose(clip_half_plane(SQUARE, np.array([-1.0, 0, 1])), [(0, 0), (1, 0), (1, 2), (0, 2)])
    assert len(clip_half_plane(SQUARE, np.array([-1.0, 0, -1]))) == 0
