"""Plane-to-plane maps against hand-worked figures, published data and independent libraries."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skimage.transform import ProjectiveTransform

from calibration.homography import (
    BeyondHorizon,
    OriginOnHorizon,
    apply,
    clip_half_plane,
    denominators,
    direct,
    estimate,
    inverse,
    jacobian,
    normalise,
    sensitivity,
)
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, random_rig, side_of

WORKED = np.array([[1.0, 2, 3], [4, 5, 6], [7, 8, 1]])
SQUARE = np.array([(0.0, 0), (0, 1), (1, 0), (1, 1)])
# By hand: (0,1) -> (5/9, 11/9), (1,0) -> (4/8, 10/8), (1,1) -> (6/16, 15/16).
WORKED_IMAGES = np.array([(3.0, 6), (5 / 9, 11 / 9), (1 / 2, 5 / 4), (3 / 8, 15 / 16)])
ROUNDING = 1e-12
AGREEMENT_PX = 1e-6  # two double-precision least-squares routines that stop by their own rules


def test_a_matrix_worked_by_hand_maps_the_corners_of_a_square() -> None:
    np.testing.assert_allclose(apply(WORKED, SQUARE), WORKED_IMAGES, atol=ROUNDING)


def test_four_pairs_give_the_worked_matrix_back() -> None:
    np.testing.assert_allclose(normalise(estimate(SQUARE, WORKED_IMAGES)), WORKED, atol=1e-11)


def test_an_exact_trapezoid_maps_both_ways() -> None:
    # Pixels of a keystoned 48 x 27 in rectangle. Its sides meet at v = 3240 (the width falls from 1920 to 1440 over
    # 1080), so pixel (960, 540) lies at y = 27 t/(1 - s t) ... = 81/7, and the middle (24, 13.5) at v = 4320/7.
    pixels = np.array([(0.0, 0), (1920, 0), (1680, 1080), (240, 1080)])
    inches = np.array([(0.0, 0), (48, 0), (48, 27), (0, 27)])
    matrix = normalise(estimate(inches, pixels))
    np.testing.assert_allclose(apply(inverse(matrix), [(960, 540)]), [(24, 81 / 7)], atol=1e-10)
    np.testing.assert_allclose(apply(matrix, [(24, 13.5)]), [(960, 4320 / 7)], atol=1e-9)


SURVEY_FROM = np.array([(90.0, 90), (50, 40), (-30, 20), (50, -40), (110, -80), (-100, 80)])
SURVEY_TO = np.array(
    [
        (1420.407, 895.362),
        (895.887, 351.398),
        (-944.926, 641.434),
        (968.084, -1384.138),
        (1993.262, -2367.511),
        (-3382.284, 3487.762),
    ]
)


def test_six_surveyed_points_give_the_published_parameters() -> None:
    # C. Ghilani and P. Wolf, Adjustment Computations, chapter 18, two-dimensional projective transformation.
    # Points and parameters are from memory. Half a unit of the last remembered digit, except the fourth: our note says
    # -8.008, the least-squares answer (checked below by a second routine) is -8.001.
    found = normalise(estimate(SURVEY_FROM, SURVEY_TO)).ravel()[:8]
    published = [25.003, 0.801, -134.7, -8.008, 24.998, -149.8, 0.0040, 0.0020]
    last_digit = [0.0005, 0.0005, 0.05, 0.0075, 0.0005, 0.05, 0.00005, 0.00005]
    assert (np.abs(found - published) <= last_digit).all(), found


def test_six_surveyed_points_agree_with_opencv() -> None:
    ours = normalise(estimate(SURVEY_FROM, SURVEY_TO))
    theirs, _ = cv2.findHomography(SURVEY_FROM, SURVEY_TO, 0)
    ours_cost = ((apply(ours, SURVEY_FROM) - SURVEY_TO) ** 2).sum()
    theirs_cost = ((apply(theirs, SURVEY_FROM) - SURVEY_TO) ** 2).sum()
    assert ours_cost <= theirs_cost * (1 + 1e-9)
    np.testing.assert_allclose(apply(ours, SURVEY_FROM), apply(theirs, SURVEY_FROM), atol=0.05)


@pytest.mark.parametrize("seed", range(6))
def test_four_pairs_agree_with_opencv_and_scikit_image_over_a_grid(seed: int) -> None:
    matrix = random_rig(np.random.default_rng(seed), mirrored=seed % 2 == 1)
    table = lit(matrix, CORNERS)
    grid = lit(matrix, np.array([(u, v) for u in range(50, WIDTH_PX, 180) for v in range(50, HEIGHT_PX, 120)], float))
    ours = apply(estimate(table, CORNERS), grid)
    opencv = cv2.getPerspectiveTransform(table.astype(np.float32), CORNERS.astype(np.float32))
    exact = cv2.perspectiveTransform(grid[None], cv2.findHomography(table, CORNERS, 0)[0])[0]
    scikit = ProjectiveTransform.from_estimate(table, CORNERS)
    np.testing.assert_allclose(ours, exact, atol=0.02, rtol=0)  # OpenCV rounds the pairs to 32 bit first
    np.testing.assert_allclose(ours, scikit(grid), atol=AGREEMENT_PX)
    np.testing.assert_allclose(ours, cv2.perspectiveTransform(grid[None], opencv)[0], atol=0.05)  # 32-bit inputs


@pytest.mark.parametrize("seed", range(6))
def test_many_noisy_pairs_fit_no_worse_than_opencv(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    matrix = random_rig(rng)
    pixels = rng.uniform((50, 50), (WIDTH_PX - 50, HEIGHT_PX - 50), (12, 2))
    table = lit(matrix, pixels) + rng.normal(0, 0.05, (12, 2))
    ours = estimate(table, pixels)
    theirs, _ = cv2.findHomography(table, pixels, 0)
    cost = ((apply(ours, table) - pixels) ** 2).sum()
    assert cost <= ((apply(theirs, table, np.sign(denominators(theirs, table)[0])) - pixels) ** 2).sum() * (1 + 1e-9)
    np.testing.assert_allclose(
        apply(ours, table), cv2.perspectiveTransform(table[None], theirs)[0], atol=0.01, rtol=0
    )  # OpenCV stops its refinement earlier


def test_the_refined_fit_is_a_minimum_in_pixels_where_the_direct_one_is_not() -> None:
    rng = np.random.default_rng(5)
    matrix = random_rig(rng)
    pixels = rng.uniform((50, 50), (WIDTH_PX - 50, HEIGHT_PX - 50), (9, 2))
    table = lit(matrix, pixels) + rng.normal(0, 0.2, (9, 2))
    found = estimate(table, pixels)
    scaled = normalise(found)
    slopes = sensitivity(scaled, table).reshape(-1, 8)
    gradient = slopes.T @ (apply(scaled, table, side_of(scaled)) - pixels).ravel()
    assert (np.abs(gradient) <= 1e-6 * np.linalg.norm(slopes, axis=0)).all()
    rough = direct(table, pixels)
    refined_cost = ((apply(found, table) - pixels) ** 2).sum()
    assert refined_cost < ((apply(rough, table, side_of(rough)) - pixels) ** 2).sum()


@settings(max_examples=60)
@given(seed=st.integers(0, 10**6), mirrored=st.booleans())
def test_inverse_after_forward_is_identity(seed: int, mirrored: bool) -> None:
    rng = np.random.default_rng(seed)
    matrix = random_rig(rng, mirrored=mirrored)
    points = lit(matrix, rng.uniform((0, 0), (WIDTH_PX, HEIGHT_PX), (20, 2)))
    side = side_of(matrix)
    back = apply(inverse(matrix), apply(matrix, points, side), side)
    np.testing.assert_allclose(back, points, atol=1e-8)


def test_points_on_and_beyond_the_horizon_are_refused_and_named() -> None:
    # The denominator is 7x + 8y + 1: zero at (-1/7, 0), negative at (-1, 0), positive at (1, 1).
    with pytest.raises(BeyondHorizon, match="horizon") as refused:
        apply(WORKED, [(1, 1), (-1 / 7, 0), (-1, 0)])
    assert refused.value.points == (1, 2)


def test_the_other_side_of_the_horizon_can_be_asked_for() -> None:
    # At (-1, 0): (1*-1 + 3, 4*-1 + 6) / (-6) = (-1/3, -1/3).
    np.testing.assert_allclose(apply(WORKED, [(-1, 0)], side=-1.0), [(-1 / 3, -1 / 3)], atol=ROUNDING)
    with pytest.raises(BeyondHorizon):
        apply(WORKED, [(1, 1)], side=-1.0)


def test_a_map_that_sends_the_origin_to_infinity_cannot_be_scaled_to_a_last_entry_of_one() -> None:
    with pytest.raises(OriginOnHorizon, match="origin"):
        normalise(np.array([[1.0, 0, 2], [0, 1, 3], [0, 1, 0]]))


def test_not_a_number_is_never_mapped() -> None:
    with pytest.raises(BeyondHorizon):
        apply(WORKED, [(np.nan, 0.0)])


def test_derivatives_match_differences() -> None:
    matrix = random_rig(np.random.default_rng(3))
    points = np.array([(20.0, 10.0), (40.0, 25.0)])
    side, step = side_of(matrix), 1e-5
    for axis in range(2):
        ahead, behind = points.copy(), points.copy()
        ahead[:, axis] += step
        behind[:, axis] -= step
        slope = (apply(matrix, ahead, side) - apply(matrix, behind, side)) / (2 * step)
        np.testing.assert_allclose(jacobian(matrix, points)[:, :, axis], slope, rtol=1e-6, atol=1e-6)
    for entry in range(8):
        trial = matrix.ravel().copy()
        nudge = 1e-6 * max(abs(trial[entry]), 1e-4)
        trial[entry] += nudge
        slope = (apply(trial.reshape(3, 3), points, side) - apply(matrix, points, side)) / nudge
        np.testing.assert_allclose(sensitivity(matrix, points)[:, :, entry], slope, rtol=1e-3, atol=1e-3)


def test_fewer_than_four_pairs_are_no_map() -> None:
    with pytest.raises(ValueError, match="four or more"):
        estimate(SQUARE[:3], WORKED_IMAGES[:3])


def test_a_square_is_clipped_by_a_line_through_it() -> None:
    square = np.array([(0.0, 0), (2, 0), (2, 2), (0, 2)])
    np.testing.assert_allclose(clip_half_plane(square, np.array([-1.0, 0, 1])), [(0, 0), (1, 0), (1, 2), (0, 2)])
    assert len(clip_half_plane(square, np.array([-1.0, 0, -1]))) == 0
