"""Check marks against prediction."""

from __future__ import annotations

import numpy as np
import pytest

from calibration.checking import Verdict, check_against, check_targets
from calibration.lens import Lens
from calibration.marks import Mark
from calibration.table import Table, fit_table
from tests.benchmarks.calibration_coverage import usual_lens
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, marks_of, random_rig

SQUARE_ON = np.array([[20.0, 0, 100], [0, -20, 1000], [0, 0, 1]])


def honest() -> Table:
    return fit_table(marks_at(SQUARE_ON, CORNERS), WIDTH_PX, HEIGHT_PX)


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    return Mark((mark.table[0] + dx, mark.table[1] + dy), mark.pixel)


def test_perfect_check_marks_agree() -> None:
    check = check_against(honest(), marks_at(SQUARE_ON, check_targets(honest())))
    assert check.verdict == Verdict.AGREES
    assert check.within_tolerance


def test_a_check_mark_half_an_inch_off_misses_and_is_named() -> None:
    first, second, *_ = marks_at(SQUARE_ON, check_targets(honest()))
    check = check_against(honest(), [first, moved(second, 0.5, 0)])
    assert [checked.verdict for checked in check.marks] == [Verdict.AGREES, Verdict.MISSES]
    assert check.marks[1].missed_in == pytest.approx(0.5)
    assert check.verdict == Verdict.MISSES


def test_a_check_mark_just_outside_prediction_is_doubtful() -> None:
    (mark,) = marks_at(SQUARE_ON, check_targets(honest())[:1])
    expected = check_against(honest(), [mark]).marks[0].expected_in
    check = check_against(honest(), [moved(mark, 0, expected * 1.1)])
    assert check.verdict == Verdict.DOUBTFUL


def test_a_miss_that_was_to_be_expected_but_passes_the_tolerance_asks_for_more_marks() -> None:
    (mark,) = marks_at(SQUARE_ON, check_targets(honest())[:1])
    check = check_against(honest(), [moved(mark, 0.06, 0)], tolerance_in=1 / 32)
    assert check.verdict == Verdict.AGREES
    assert not check.within_tolerance


def test_a_bent_light_is_seen_at_mid_edges_and_not_in_the_middle() -> None:
    lens = Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1=-0.05)
    table = fit_table(marks_of(lit(SQUARE_ON, lens.undo(CORNERS)), CORNERS), WIDTH_PX, HEIGHT_PX)

    def seen(pixels: np.ndarray) -> tuple[Mark, ...]:
        return marks_of(lit(SQUARE_ON, lens.undo(pixels)), pixels)

    assert check_against(table, seen(check_targets(table))).verdict == Verdict.DOUBTFUL
    assert check_against(table, seen(np.array([(960.0, 540.0)]))).verdict == Verdict.AGREES


def test_honest_check_marks_agree_in_95_of_100_trials() -> None:
    rng = np.random.default_rng(12)
    agrees, expected = [], []
    for _ in range(300):
        matrix, lens = random_rig(rng), usual_lens(rng)
        table = fit_table(
            marks_of(
                lit(matrix, lens.undo(CORNERS)) + rng.normal(0, 1 / 32, CORNERS.shape),
                CORNERS + rng.normal(0, 0.25, CORNERS.shape),
            ),
            WIDTH_PX,
            HEIGHT_PX,
        )
        pixels = check_targets(table)
        places = lit(matrix, lens.undo(pixels)) + rng.normal(0, 1 / 32, pixels.shape)
        check = check_against(table, marks_of(places, pixels + rng.normal(0, 0.25, pixels.shape)))
        agrees += [checked.verdict == Verdict.AGREES for checked in check.marks]
        expected += [checked.missed_in <= checked.expected_in for checked in check.marks]
    # Four marks know nothing of the lens, so the prior is all there is; lenses as drawn here bend a little less.
    assert 0.93 <= np.mean(agrees) <= 0.98
    assert 0.93 <= np.mean(expected) <= 0.98


def test_no_check_mark_is_no_check() -> None:
    with pytest.raises(ValueError, match="no check mark"):
        check_against(honest(), [])
