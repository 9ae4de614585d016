"""Where to set marks, and what they bring."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from calibration.advice import first_targets, next_mark, with_mark
from calibration.marks import Mark, check_marks
from calibration.table import fit_table
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, lit, marks_at, marks_of, random_rig


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
    assert "right" in advice.where
    assert advice.after_in < 0.75 * advice.before_in
    assert advice.sentence().startswith(f"A mark near {advice.where} of the lit area brings the worst error from ")
    assert advice.sentence("mm").endswith(" mm.")


@pytest.mark.parametrize("seed", range(3))
def test_what_is_promised_is_what_comes(seed: int) -> None:
    matrix, marks = crowded(seed)
    table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
    advice = next_mark(table)
    assert advice is not None
    assert advice.before_in == pytest.approx(Uncertainty(table).worst(21, 13).error_in)
    more = fit_table((*marks, Mark(tuple(lit(matrix, np.array([advice.pixel]))[0]), advice.pixel)), WIDTH_PX, HEIGHT_PX)
    assert Uncertainty(more).worst(21, 13).error_in == pytest.approx(advice.after_in, rel=1e-6)


def test_no_other_place_of_the_grid_would_do_better() -> None:
    matrix, marks = crowded(1)
    table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
    advice = next_mark(table, columns=5, rows=3)
    assert advice is not None
    for pixel in [(57.6, 32.4), (960.0, 540.0), (1862.4, 540.0), (1862.4, 1047.6), (1862.4, 32.4)]:
        other = with_mark(table, lit(matrix, np.array([pixel]))[0]).worst(21, 13).error_in
        assert advice.after_in <= other + 1e-9


def test_following_the_advice_again_and_again_keeps_helping() -> None:
    matrix, marks = crowded(2)
    worst = []
    for _ in range(4):
        table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
        worst.append(Uncertainty(table).worst().error_in)
        advice = next_mark(table)
        assert advice is not None
        marks = (*marks, Mark(tuple(lit(matrix, np.array([advice.pixel]))[0]), advice.pixel))
        check_marks(marks)
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
