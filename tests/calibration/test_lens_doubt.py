"""What the marks leave open about the lens, and when they show it."""

from __future__ import annotations

import numpy as np

from calibration.fitting import PLAIN, PLANE
from calibration.lens import Lens
from calibration.lens_doubt import lens_doubt, lens_shows
from calibration.lit import frame_grid, lit_points
from calibration.quantiles import CENTRAL_95
from calibration.table import fit_table
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, marks_of, random_rig

NINE = frame_grid(WIDTH_PX, HEIGHT_PX, 3, 3, 0.05)


def test_four_marks_say_nothing_and_the_doubt_is_what_the_bend_would_do() -> None:
    matrix = random_rig(np.random.default_rng(1))
    doubt = lens_doubt(Uncertainty(fit_table(marks_at(matrix, CORNERS), WIDTH_PX, HEIGHT_PX)))
    assert doubt is not None
    assert not doubt.told_by_marks
    assert abs(doubt.k1 - CENTRAL_95 * 0.015) < 1e-6  # the whole of what is usual
    lens = Lens.for_frame(WIDTH_PX, HEIGHT_PX, doubt.k1)
    bent = fit_table(marks_of(lit(matrix, lens.undo(CORNERS)), CORNERS), WIDTH_PX, HEIGHT_PX)
    places = lit_points(bent, 25, 15)
    actual = np.linalg.norm(lit(matrix, lens.undo(bent.to_frame(places))) - places, axis=1).max()
    assert abs(doubt.error_in - actual) < 0.1 * actual  # first order in k1
    assert "cannot show" in doubt.sentence()


def test_nine_good_marks_leave_little_open() -> None:
    matrix = random_rig(np.random.default_rng(1))
    nine, four = (
        lens_doubt(Uncertainty(fit_table(marks_at(matrix, pixels), WIDTH_PX, HEIGHT_PX))) for pixels in (NINE, CORNERS)
    )
    assert nine is not None
    assert four is not None
    assert nine.told_by_marks
    assert nine.error_in < 0.6 * four.error_in
    assert "no more than" in nine.sentence()


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
    assert lens_doubt(made) is None


def test_a_lens_known_to_be_perfect_leaves_no_doubt() -> None:
    matrix = random_rig(np.random.default_rng(1))
    made = Uncertainty(fit_table(marks_at(matrix, CORNERS), WIDTH_PX, HEIGHT_PX), prior=PLAIN)
    assert lens_doubt(made) is None
    assert not lens_shows(made)
