"""How large an unseen bend could be."""

from __future__ import annotations

import numpy as np
import pytest

from calibration.lens import Lens
from calibration.lens_doubt import LARGEST_K1, lens_doubt
from calibration.lit import frame_grid, lit_points
from calibration.table import Table, fit_table
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, marks_of, random_rig

NINE = frame_grid(WIDTH_PX, HEIGHT_PX, 3, 3, 0.05)


@pytest.mark.parametrize("seed", range(3))
def test_four_marks_say_nothing_and_the_bound_is_what_the_bend_would_do(seed: int) -> None:
    matrix, lens = random_rig(np.random.default_rng(seed)), Lens.for_frame(WIDTH_PX, HEIGHT_PX, LARGEST_K1)
    table = fit_table(marks_of(lit(matrix, lens.undo(CORNERS)), CORNERS), WIDTH_PX, HEIGHT_PX)
    doubt = lens_doubt(table)
    assert doubt is not None
    assert not doubt.told_by_marks
    assert doubt.k1 == LARGEST_K1
    places = lit_points(table, 25, 15)
    actual = np.linalg.norm(lit(matrix, lens.undo(table.to_frame(places))) - places, axis=1).max()
    assert doubt.error_in == pytest.approx(actual, rel=0.25)  # the bound is first order in k1
    assert "cannot show" in doubt.sentence()


def test_nine_good_marks_allow_little() -> None:
    matrix = random_rig(np.random.default_rng(1))
    nine, four = (lens_doubt(fit_table(marks_at(matrix, pixels), WIDTH_PX, HEIGHT_PX)) for pixels in (NINE, CORNERS))
    assert nine is not None
    assert four is not None
    assert nine.told_by_marks
    assert nine.error_in < 0.7 * four.error_in
    assert "no more than" in nine.sentence()


def test_the_bend_is_within_the_told_one_in_95_of_100_trials() -> None:
    rng = np.random.default_rng(5)
    held = []
    for _ in range(150):
        k1 = float(rng.uniform(-0.02, 0.02))
        matrix, lens = random_rig(rng), Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1)
        placed = lit(matrix, lens.undo(NINE)) + rng.normal(0, 1 / 32, NINE.shape)
        marks = marks_of(placed, NINE + rng.normal(0, 0.25, NINE.shape))
        doubt = lens_doubt(fit_table(marks, WIDTH_PX, HEIGHT_PX, look_for_lens=False))
        assert doubt is not None
        held.append(abs(k1) <= doubt.k1)
    assert np.mean(held) >= 0.93


def test_a_fitted_lens_leaves_no_such_doubt() -> None:
    matrix = random_rig(np.random.default_rng(1))
    lens = Lens.for_frame(WIDTH_PX, HEIGHT_PX, 0.03)
    assert lens_doubt(Table(WIDTH_PX, HEIGHT_PX, matrix, marks_at(matrix, NINE), lens=lens)) is None
