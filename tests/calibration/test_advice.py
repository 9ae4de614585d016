"""Where to set marks, and what they bring."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from calibration.advice import first_targets, lens_shows, lens_uncertainty, next_mark, untested, with_marks
from calibration.fitting import PLAIN, PLANE
from calibration.lens import Lens
from calibration.mark_checks import check_marks
from calibration.marks import Mark
from calibration.quantiles import CENTRAL_95, radial_quantile
from calibration.table import fit_table, frame_grid
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, marks_of, random_rig

NINE = frame_grid(WIDTH_PX, HEIGHT_PX, 3, 3, 0.05)


def crowded(seed: int = 0) -> tuple[np.ndarray, tuple[Mark, ...]]:
    """Four marks in the left half of the frame only."""
    matrix = random_rig(np.random.default_rng(seed))
    return matrix, marks_at(matrix, np.array([(150.0, 950), (900, 950), (900, 130), (150, 130)]))


def test_marks_crowded_to_the_left_are_told_to_go_right() -> None:
    # A projector square to the table: 20 pixels to the inch, v down.
    matrix = np.array([[20.0, 0, 100], [0, -20, 1000], [0, 0, 1]])
    marks = marks_at(matrix, np.array([(150.0, 950), (900, 950), (900, 130), (150, 130)]))
    advice = next_mark(fit_table(marks, WIDTH_PX, HEIGHT_PX))
    assert advice is not None
    assert advice.after_in < 0.75 * advice.before_in
    assert advice.at_in == pytest.approx((91, 23), abs=6)  # the middle of the right end of 96 x 54 in


@pytest.mark.parametrize("seed", range(3))
def test_what_is_promised_is_what_comes(seed: int) -> None:
    matrix, marks = crowded(seed)
    table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
    advice = next_mark(table)
    assert advice is not None
    assert advice.before_in == Uncertainty(table).everywhere_in()
    more = fit_table((*marks, Mark(tuple(lit(matrix, np.array([advice.pixel]))[0]), advice.pixel)), WIDTH_PX, HEIGHT_PX)
    # The new mark lies where the old fit had it: the map stays. That it shows the lens to be plain is not foreseen.
    assert 0.9 * advice.after_in < Uncertainty(more, 1.0).everywhere_in() < 1.01 * advice.after_in


def test_no_other_place_of_the_grid_would_do_better() -> None:
    matrix, marks = crowded(1)
    table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
    advice = next_mark(table, columns=5, rows=3)
    assert advice is not None
    made, seen = Uncertainty(table), table.lit_points(21, 13)
    pixels = np.array([(57.6, 32.4), (960.0, 540.0), (1862.4, 540.0), (1862.4, 1047.6), (1862.4, 32.4), advice.pixel])
    spreads, slopes = with_marks(made, lit(matrix, pixels)), made.slopes_in(seen)
    worst = [radial_quantile(slopes @ spread @ slopes.transpose(0, 2, 1)).max() for spread in spreads]
    assert min(worst) == pytest.approx(worst[-1])


def test_following_the_advice_again_and_again_keeps_helping() -> None:
    matrix, marks = crowded(2)
    worst = []
    for _ in range(3):
        table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
        worst.append(Uncertainty(table).everywhere_in())
        advice = next_mark(table)
        if advice is None:
            break
        marks = (*marks, Mark(tuple(lit(matrix, np.array([advice.pixel]))[0]), advice.pixel))
        check_marks(marks)
    assert len(worst) > 1
    assert worst[-1] < worst[0] / 2
    assert all(after < before for before, after in pairwise(worst))


@pytest.mark.parametrize("count", range(4, 10))
def test_first_targets_carry_a_calibration(count: int) -> None:
    pixels = first_targets(WIDTH_PX, HEIGHT_PX, count)
    assert pixels.shape == (count, 2)
    check_marks(marks_at(random_rig(np.random.default_rng(3)), pixels))


def test_the_first_target_is_near_left_and_they_run_round() -> None:
    near_left, near_right, far_right, far_left = first_targets(WIDTH_PX, HEIGHT_PX)
    assert near_left[0] < near_right[0]
    assert far_left[0] < far_right[0]
    assert near_left[1] > far_left[1]  # v counts down, away from the person is up


@pytest.mark.parametrize("count", [3, 10])
def test_other_numbers_of_first_targets_are_refused(count: int) -> None:
    with pytest.raises(ValueError, match="4 to 9"):
        first_targets(WIDTH_PX, HEIGHT_PX, count)


def test_corner_marks_are_better_than_the_same_four_pulled_inwards() -> None:
    matrix = random_rig(np.random.default_rng(9))
    worst = [
        Uncertainty(fit_table(marks_of(lit(matrix, pixels), pixels), WIDTH_PX, HEIGHT_PX)).worst().error_in
        for pixels in (first_targets(WIDTH_PX, HEIGHT_PX, inset=inset) for inset in (0.06, 0.15, 0.3))
    ]
    assert worst == sorted(worst)


def test_advice_that_brings_nothing_is_not_given() -> None:
    # Nine marks over the whole light: a tenth one would bring 7/64 in down to 7/64 in.
    matrix = random_rig(np.random.default_rng(9))
    marks = marks_at(matrix, first_targets(WIDTH_PX, HEIGHT_PX, 9))
    assert next_mark(fit_table(marks, WIDTH_PX, HEIGHT_PX)) is None


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("count", [4, 5])
def test_advice_brings_a_tenth_or_more(seed: int, count: int) -> None:
    rng = np.random.default_rng(seed)
    matrix = random_rig(rng)
    pixels = rng.uniform((60, 60), (1860, 1020), (count, 2))
    pixels[:4] = np.array([(200, 150), (1400, 150), (1500, 900), (150, 800)]) + rng.uniform(-60, 60, (4, 2))
    advice = next_mark(fit_table(marks_at(matrix, pixels), WIDTH_PX, HEIGHT_PX))
    assert advice is None or advice.after_in <= 0.9 * advice.before_in


def test_four_marks_say_nothing_and_the_doubt_is_what_the_bend_would_do() -> None:
    matrix = random_rig(np.random.default_rng(1))
    doubt = lens_uncertainty(Uncertainty(fit_table(marks_at(matrix, CORNERS), WIDTH_PX, HEIGHT_PX)))
    assert doubt is not None
    assert not doubt.by_marks
    assert abs(doubt.k1 - CENTRAL_95 * 0.0125) < 1e-6  # the whole of what is usual
    lens = Lens.for_frame(WIDTH_PX, HEIGHT_PX, doubt.k1)
    bent = fit_table(marks_of(lit(matrix, lens.undo(CORNERS)), CORNERS), WIDTH_PX, HEIGHT_PX)
    places = bent.lit_points(25, 15)
    actual = np.linalg.norm(lit(matrix, lens.undo(bent.to_frame(places))) - places, axis=1).max()
    assert abs(doubt.error_in - actual) < 0.1 * actual  # first order in k1


def test_nine_good_marks_leave_little_open() -> None:
    matrix = random_rig(np.random.default_rng(1))
    nine, four = (
        lens_uncertainty(Uncertainty(fit_table(marks_at(matrix, pixels), WIDTH_PX, HEIGHT_PX)))
        for pixels in (NINE, CORNERS)
    )
    assert nine is not None
    assert four is not None
    assert nine.by_marks
    assert nine.error_in < 0.6 * four.error_in


def test_k1_lies_within_its_interval_in_95_of_100_trials() -> None:
    rng = np.random.default_rng(5)
    held = []
    for _ in range(150):
        k1 = float(rng.normal(0, 0.015))
        matrix, lens = random_rig(rng), Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1)
        placed = lit(matrix, lens.undo(NINE)) + rng.normal(0, 1 / 32, NINE.shape)
        table = fit_table(marks_of(placed, NINE + rng.normal(0, 0.25, NINE.shape)), WIDTH_PX, HEIGHT_PX)
        spread = np.sqrt(Uncertainty(table).parameters[PLANE, PLANE])
        held.append(abs((table.lens.k1 if table.lens else 0.0) - k1) <= CENTRAL_95 * spread)
    assert 0.91 <= np.mean(held) <= 0.99  # of 150 trials the share strays 0.018


def test_a_lens_that_shows_leaves_no_such_doubt() -> None:
    matrix, lens = random_rig(np.random.default_rng(1)), Lens.for_frame(WIDTH_PX, HEIGHT_PX, 0.03)
    made = Uncertainty(fit_table(marks_of(lit(matrix, lens.undo(NINE)), NINE), WIDTH_PX, HEIGHT_PX))
    assert lens_shows(made)
    assert lens_uncertainty(made) is None


def test_a_lens_known_to_be_perfect_leaves_no_doubt() -> None:
    matrix = random_rig(np.random.default_rng(1))
    made = Uncertainty(fit_table(marks_at(matrix, CORNERS), WIDTH_PX, HEIGHT_PX), prior=PLAIN)
    assert lens_uncertainty(made) is None
    assert not lens_shows(made)


def test_marks_that_nothing_tests_are_named_and_nine_are_all_tested() -> None:
    square_on = np.array([[20.0, 0, 0], [0, -20, 1080], [0, 0, 1]])
    pixels = np.vstack([np.array([(80.0, 1000), (1840, 1000), (1840, 80), (80, 80)]), [(960, 1000)]])
    found = untested(Uncertainty(fit_table(marks_of(lit(square_on, pixels), pixels), WIDTH_PX, HEIGHT_PX)))
    assert found is not None
    assert {3, 4} <= set(found.marks)
    nine = fit_table(marks_of(lit(square_on, NINE), NINE), WIDTH_PX, HEIGHT_PX)
    assert untested(Uncertainty(nine)) is None
