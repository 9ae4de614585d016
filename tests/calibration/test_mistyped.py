"""A mistyped mark among five or more is named, and the slip proposed."""

from __future__ import annotations

import numpy as np
import pytest

from calibration.marks import Mark
from calibration.mistyped import find_mistyped
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_of, random_rig

SIX_PX = np.vstack([CORNERS, [(960.0, 980.0), (960.0, 100.0)]])


def typed(seed: int, pixels: np.ndarray = SIX_PX) -> list[Mark]:
    """Marks of a random rig, their inches typed to 1/16."""
    places = np.round(lit(random_rig(np.random.default_rng(seed)), pixels) * 16) / 16
    return list(marks_of(places, pixels))


@pytest.mark.parametrize("seed", range(8))
def test_honest_marks_are_not_accused(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places = lit(random_rig(rng), SIX_PX) + rng.normal(0, 1 / 32, SIX_PX.shape)
    assert find_mistyped(marks_of(places, SIX_PX), WIDTH_PX, HEIGHT_PX) is None


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("number", [1, 4, 6])
def test_swapped_inches_are_found_and_put_right(seed: int, number: int) -> None:
    marks = typed(seed)
    x, y = marks[number - 1].table
    if abs(x - y) < 1:
        return
    marks[number - 1] = Mark((y, x), marks[number - 1].pixel)
    found = find_mistyped(marks, WIDTH_PX, HEIGHT_PX)
    assert found is not None
    assert found.number == number
    assert found.slip is not None
    assert found.slip.mark.table == (x, y)
    assert "swapped" in found.sentence()


@pytest.mark.parametrize("seed", range(6))
def test_a_digit_off_is_found_and_a_mark_that_fits_proposed(seed: int) -> None:
    marks = typed(seed)
    x, y = marks[1].table
    tens = int(abs(x) // 10 % 10)
    wrong = x + (10 if tens < 9 else -10) * (1 if x >= 0 else -1)
    marks[1] = Mark((wrong, y), marks[1].pixel)
    found = find_mistyped(marks, WIDTH_PX, HEIGHT_PX)
    assert found is not None
    assert found.number == 2
    assert found.sure
    assert found.slip is not None
    assert found.slip.mark.table == (x, y)
    assert f"{x:g} instead of {wrong:g}" in found.sentence()


@pytest.mark.parametrize("seed", range(4))
def test_a_mark_measured_wrong_without_a_slip_is_named_with_its_place(seed: int) -> None:
    marks = typed(seed, np.vstack([SIX_PX, [(120.0, 540.0)]]))
    x, y = marks[4].table
    marks[4] = Mark((x + 2.37, y - 1.71), marks[4].pixel)
    found = find_mistyped(marks, WIDTH_PX, HEIGHT_PX)
    assert found is not None
    assert found.number == 5
    assert found.expected_in == pytest.approx((x, y), abs=0.25)
    assert found.slip is None
    assert "Measure it once more" in found.sentence()


def test_five_marks_with_one_in_the_middle_still_show_swapped_inches() -> None:
    # Corners and middle: without a corner three of the rest stand in line, so the slips are tried in the whole set.
    marks = typed(3, np.vstack([CORNERS, [(960.0, 540.0)]]))
    x, y = marks[3].table
    marks[3] = Mark((y, x), marks[3].pixel)
    found = find_mistyped(marks, WIDTH_PX, HEIGHT_PX)
    assert found is not None
    assert found.number == 4
    assert found.slip is not None
    assert found.slip.mark.table == (x, y)


def test_of_five_marks_without_a_slip_nobody_is_accused_for_sure() -> None:
    marks = typed(2, SIX_PX[:5])
    x, y = marks[0].table
    marks[0] = Mark((x + 1.37, y - 0.71), marks[0].pixel)
    found = find_mistyped(marks, WIDTH_PX, HEIGHT_PX)
    assert found is not None
    assert found.slip is not None or not found.sure


def test_four_marks_cannot_show_a_slip() -> None:
    marks = typed(1)[:4]
    marks[0] = Mark((marks[0].table[0] + 10, marks[0].table[1]), marks[0].pixel)
    assert find_mistyped(marks, WIDTH_PX, HEIGHT_PX) is None
