"""The fitted table maps both ways, tells its residuals and its lit area."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.homography import BeyondHorizon, OutOfReach, apply
from calibration.lens import Lens
from calibration.marks import Mark
from calibration.problems import Code, MarksRefused
from calibration.table import Table, fit_table
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, marks_of, random_rig

INVERSE_IN = 1e-8
TRAPEZOID = marks_of(
    np.array([(0.0, 0), (48, 0), (48, 27), (0, 27)]), np.array([(0.0, 0), (1920, 0), (1680, 1080), (240, 1080)])
)


def test_the_matrix_has_a_last_entry_of_one_and_cannot_be_changed() -> None:
    table = fit_table(TRAPEZOID, WIDTH_PX, HEIGHT_PX)
    assert table.matrix[2, 2] == 1.0
    with pytest.raises(ValueError, match="read-only"):
        table.matrix[0, 0] = 2.0


def test_four_marks_fit_exactly_and_so_prove_nothing() -> None:
    table = fit_table(TRAPEZOID, WIDTH_PX, HEIGHT_PX)
    assert table.rms_px < 1e-9
    assert table.residuals_in.max() < 1e-9


def test_the_lit_area_is_where_the_corners_of_the_frame_fall() -> None:
    # 20 pixels to the inch, zero at pixel (100, 1000), y away from the person: u = 0 is x = -5, v = 1080 is y = -4.
    matrix = np.array([[20.0, 0, 100], [0, -20, 1000], [0, 0, 1]])
    area = Table(WIDTH_PX, HEIGHT_PX, matrix, ()).lit_area()
    np.testing.assert_allclose(area, [(-5, 50), (91, 50), (91, -4), (-5, -4)], atol=1e-9)


def test_five_marks_leave_residuals_in_both_units() -> None:
    marks = (*TRAPEZOID, Mark((24.0, 81 / 7 + 0.25), (960.0, 540.0)))
    table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
    assert table.residuals_px.shape == (5,)
    assert 1 < table.rms_px < 10
    assert 0.01 < table.residuals_in.max() < 0.25


def test_marks_in_line_are_refused() -> None:
    with pytest.raises(MarksRefused, match=Code.IN_LINE_ON_TABLE):
        fit_table(marks_of(np.array([(0, 0), (9, 0), (18, 0), (0, 9.0)]), CORNERS), WIDTH_PX, HEIGHT_PX)


def test_a_zero_that_lies_on_the_horizon_is_refused() -> None:
    # u = x / y, v = 1 / y has its horizon at y = 0, through the zero of the table.
    places = np.array([(1.0, 1), (2, 1), (2, 3), (1, 3)])
    pixels = np.column_stack([places[:, 0] / places[:, 1], 1 / places[:, 1]]) * 500
    with pytest.raises(MarksRefused, match=Code.ORIGIN_ON_HORIZON):
        fit_table(marks_of(places, pixels), WIDTH_PX, HEIGHT_PX)


def test_a_zero_beyond_the_horizon_still_gives_a_map_that_knows_its_side() -> None:
    # u = x / (y - 5), v = 1 / (y - 5): the zero of the table lies behind the horizon y = 5.
    places = np.array([(1.0, 7), (20, 7), (20, 15), (1, 15)])
    pixels = np.column_stack([places[:, 0], np.ones(4)]) / (places[:, 1:] - 5) * 100
    table = fit_table(marks_of(places, pixels), WIDTH_PX, HEIGHT_PX)
    assert table.matrix[2, 2] == 1.0
    assert table.side == -1.0
    np.testing.assert_allclose(table.to_frame([(5, 10)]), [(100, 20)], atol=1e-9)
    np.testing.assert_allclose(table.to_table([(100, 20)]), [(5, 10)], atol=1e-9)
    with pytest.raises(BeyondHorizon):
        table.to_frame([(0, 0)])
    assert np.isfinite(table.lit_area()).all()


def test_a_frame_that_looks_past_the_horizon_has_a_finite_lit_area() -> None:
    # Pixel row 540 is the horizon: u = 960 + x 960 / d, v = 540 + 5400 / d with d = y + 10; lower rows light the table.
    places = np.array([(-5.0, 2), (5, 2), (8, 20), (-8, 20)])
    depth = places[:, 1] + 10
    pixels = np.column_stack([960 + 960 * places[:, 0] / depth, 540 + 5400 / depth])
    table = fit_table(marks_of(places, pixels), WIDTH_PX, HEIGHT_PX)
    area = table.lit_area()
    assert np.isfinite(area).all()
    assert (table.to_frame(area)[:, 1] > 540).all()
    assert area[:, 1].max() == pytest.approx(290, rel=1e-6)  # ten times as far as the farthest mark: 10 * 30 - 10
    with pytest.raises(BeyondHorizon):
        table.to_table([(960, 500)])
    assert table.contains([(0, 5), (0, -10), (0, -50), (500, 5)]).tolist() == [True, False, False, False]


@settings(max_examples=60)
@given(seed=st.integers(0, 10**6), mirrored=st.booleans(), k1=st.floats(-0.05, 0.05), k2=st.floats(-0.02, 0.02))
def test_there_and_back_is_identity_with_and_without_lens(seed: int, mirrored: bool, k1: float, k2: float) -> None:
    rng = np.random.default_rng(seed)
    matrix = random_rig(rng, mirrored=mirrored)
    marks = marks_at(matrix, CORNERS)
    for lens in (None, Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1, k2)):
        table = Table(WIDTH_PX, HEIGHT_PX, matrix, marks, lens=lens)
        points = lit(matrix, rng.uniform((0, 0), (WIDTH_PX, HEIGHT_PX), (20, 2)))
        np.testing.assert_allclose(table.to_table(table.to_frame(points)), points, atol=INVERSE_IN)


def test_the_lit_area_of_a_bent_frame_has_bent_edges_that_land_on_the_frame_border() -> None:
    lens = Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1=-0.05)
    matrix = random_rig(np.random.default_rng(2))
    table = Table(WIDTH_PX, HEIGHT_PX, matrix, marks_at(matrix, CORNERS), lens=lens)
    border = table.to_frame(table.lit_area())
    assert len(border) == 64
    gap = np.minimum(
        np.minimum(border[:, 0], WIDTH_PX - border[:, 0]), np.minimum(border[:, 1], HEIGHT_PX - border[:, 1])
    )
    np.testing.assert_allclose(gap, 0, atol=1e-6)
    assert table.contains(table.to_table([(5, 5), (960, 540)])).all()


def test_the_jacobian_of_a_bent_map_matches_differences() -> None:
    matrix = random_rig(np.random.default_rng(4))
    table = Table(WIDTH_PX, HEIGHT_PX, matrix, marks_at(matrix, CORNERS), lens=Lens.for_frame(1920, 1080, -0.04, 0.01))
    point, step = lit(matrix, np.array([(1500.0, 800)]))[0], 1e-5
    slopes = [(table.to_frame(point + d) - table.to_frame(point - d))[0] / (2 * step) for d in np.eye(2) * step]
    np.testing.assert_allclose(table.jacobian(point)[0], np.transpose(slopes), rtol=1e-6, atol=1e-6)


def test_tables_are_equal_when_all_they_hold_is_equal() -> None:
    first, second = (fit_table(TRAPEZOID, WIDTH_PX, HEIGHT_PX) for _ in range(2))
    assert first == second
    assert first != replace(second, date="2031-02-04")
    assert first != Table(WIDTH_PX, HEIGHT_PX, first.matrix * 1.0 + np.eye(3) * 1e-9, first.marks, date=first.date)


def test_points_out_of_the_lens_field_are_refused() -> None:
    matrix = np.array([[20.0, 0, 0], [0, 20, 0], [0, 0, 1]])
    table = Table(WIDTH_PX, HEIGHT_PX, matrix, (), lens=Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1=-0.05))
    with pytest.raises(OutOfReach, match="lens"):
        table.to_frame([(48, 27), (5000, 0)])
    assert table.contains([(48, 27), (5000, 0)]).tolist() == [True, False]


def test_a_matrix_of_the_wrong_shape_is_refused() -> None:
    with pytest.raises(ValueError, match="3x3"):
        Table(WIDTH_PX, HEIGHT_PX, np.eye(2), ())


def test_exact_marks_give_the_truth_everywhere_between_them() -> None:
    rng = np.random.default_rng(11)
    for _ in range(10):
        matrix = random_rig(rng)
        table = fit_table(marks_at(matrix, CORNERS), WIDTH_PX, HEIGHT_PX)
        pixels = rng.uniform(CORNERS[0], CORNERS[2], (50, 2))
        np.testing.assert_allclose(table.to_table(pixels), lit(matrix, pixels), atol=1e-7)
        np.testing.assert_allclose(apply(table.matrix, lit(matrix, pixels), table.side), pixels, atol=1e-6)
