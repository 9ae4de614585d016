"""Of all slips the one is named that the marks tell of beyond doubt; else what it may be."""

from __future__ import annotations

from collections import Counter
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from calibration.marks import Mark, tables_of
from calibration.slips.evidence import Evidence
from calibration.slips.hypotheses import slips_of
from calibration.slips.judging import Finding, _named, find_slip
from tests.benchmarks.calibration_slips import KINDS, tried
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_of, random_rig

SIX_PX = np.vstack([CORNERS, [(960.0, 980.0), (960.0, 100.0)]])
NINE_PX = np.array([(u, v) for u in (150.0, 960, 1770) for v in (120.0, 540, 960)])


def typed(seed: int, pixels: np.ndarray = SIX_PX) -> list[Mark]:
    """Marks of a random rig, their inches typed to 1/16."""
    places = np.round(lit(random_rig(np.random.default_rng(seed)), pixels) * 16) / 16
    return list(marks_of(places, pixels))


def found_in(marks: list[Mark]) -> Finding | None:
    return find_slip(marks, WIDTH_PX, HEIGHT_PX)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("pixels", [SIX_PX[:5], SIX_PX, NINE_PX])
def test_honest_marks_are_not_accused(seed: int, pixels: np.ndarray) -> None:
    rng = np.random.default_rng(seed)
    places = lit(random_rig(rng), pixels) + rng.normal(0, 1 / 32, pixels.shape)
    assert found_in(list(marks_of(places, pixels))) is None


@pytest.mark.parametrize("number", [1, 4, 6])
def test_swapped_inches_are_found_and_put_right(number: int) -> None:
    marks = typed(2)
    x, y = marks[number - 1].table
    marks[number - 1] = Mark((y, x), marks[number - 1].pixel)
    found = found_in(marks)
    assert found is not None
    assert found.suspects == ((number,),)
    assert found.slip is not None
    assert found.slip.meant.tolist() == [[x, y]]
    assert found.slip.kind == "exchanged numbers"


@pytest.mark.parametrize("seed", range(4))
def test_a_digit_off_is_found_and_the_number_proposed(seed: int) -> None:
    marks = typed(seed, NINE_PX)
    x, y = marks[1].table
    wrong = x + (10 if int(abs(x) // 10 % 10) < 9 else -10) * (1 if x >= 0 else -1)
    marks[1] = Mark((wrong, y), marks[1].pixel)
    found = found_in(marks)
    assert found is not None
    assert found.suspects == ((2,),)
    assert found.slip is not None
    assert found.slip.meant.tolist() == [[x, y]]
    assert found.slip.kind == "digit"


@pytest.mark.parametrize("seed", range(3))
def test_a_mark_measured_wrong_without_a_slip_is_named_with_its_place(seed: int) -> None:
    marks = typed(seed, NINE_PX)
    x, y = marks[4].table
    marks[4] = Mark((x + 2.37, y - 1.71), marks[4].pixel)
    found = found_in(marks)
    assert found is not None
    assert found.suspects == ((5,),)
    assert found.wanted == pytest.approx((x, y), abs=0.25)
    assert found.slip is None


@pytest.mark.parametrize(
    ("sound", "first", "second", "suspects", "sure"),
    [
        (0.008, 0.982, 0.009, ((1,),), True),  # 50 to 1 is 0.9804 of all
        (0.012, 0.978, 0.009, ((1,), (4,)), False),
        (0.1, 0.5, 0.3, ((1,), (4,)), False),  # one of the two in 8 of 9 cases in which anything is wrong
        (0.1, 0.3, 0.1, (), False),
    ],
)
def test_a_mark_is_named_at_odds_of_fifty_to_one(
    sound: float, first: float, second: float, suspects: tuple[tuple[int, ...], ...], sure: bool
) -> None:
    slips = [slip for slip in slips_of(tables_of(typed(1)), [0, 3]) if slip.kind == "minus"]
    assert [slip.marks for slip in slips] == [(0,), (0,), (3,), (3,)]
    chances = np.array([sound, 0.99 * first, 0.01 * first, second / 2, second / 2, 1 - sound - first - second])
    made = cast("Evidence", SimpleNamespace(squares=np.full(6, 4.0), wanted_in=lambda row, mark: (1.0, 2.0)))
    found = _named(slips, chances, made, 1.0, 6)
    assert (found.suspects, found.is_sure) == (suspects, sure)


def test_two_marks_taken_for_each_other_are_found() -> None:
    marks = typed(1, NINE_PX)
    marks[2], marks[5] = Mark(marks[5].table, marks[2].pixel), Mark(marks[2].table, marks[5].pixel)
    found = found_in(marks)
    assert found is not None
    assert found.suspects == ((3, 6),)
    assert found.slip is not None
    assert found.slip.kind == "two marks exchanged"


def test_marks_entered_in_another_order_are_said_to_be() -> None:
    # Three columns of three, shifted by one column; turned by half a turn they would fit another order as well.
    marks = typed(1, NINE_PX)
    moved = [Mark(other.table, mark.pixel) for mark, other in zip(marks, [*marks[3:], *marks[:3]], strict=True)]
    found = found_in(moved)
    assert found is not None
    assert all(len(group) > 6 for group in found.suspects)
    assert found.slip is None or found.slip.kind == "another order"


def test_of_five_marks_an_odd_error_may_be_any_of_several_and_one_more_mark_tells() -> None:
    # Half an inch at one of corners and middle: any four agree with each other.
    marks = typed(2, np.vstack([CORNERS, [(960.0, 540.0)]]))
    x, y = marks[0].table
    marks[0] = Mark((x + 1.37, y), marks[0].pixel)
    found = found_in(marks)
    assert found is not None
    assert not found.is_sure
    assert found.slip is None


def test_two_wrong_marks_are_not_taken_for_one() -> None:
    marks = typed(3, NINE_PX)
    for index, by in ((0, 3.3), (7, -2.1)):
        x, y = marks[index].table
        marks[index] = Mark((x + by, y - by), marks[index].pixel)
    found = found_in(marks)
    assert found is not None
    assert found.slip is None
    assert not found.is_sure


def test_four_marks_cannot_show_a_slip() -> None:
    marks = typed(1)[:4]
    marks[0] = Mark((marks[0].table[0] + 10, marks[0].table[1]), marks[0].pixel)
    assert found_in(marks) is None


@pytest.mark.parametrize(("count", "trials"), [(5, 2), (9, 1)])
def test_no_slip_of_any_kind_is_put_right_wrongly_or_passes_in_silence(count: int, trials: int) -> None:
    """The shortest run of the benchmark of slips."""
    rng = np.random.default_rng(count)
    outcomes = Counter(tried(rng, count, make) for make in KINDS.values() for _ in range(trials))
    assert outcomes["wrong"] == outcomes["silent"] == 0, outcomes
    if count == 9:
        assert outcomes["corrected"] >= 5, outcomes


def test_of_hundreds_of_marks_the_wrong_one_is_named() -> None:
    rng = np.random.default_rng(3)
    pixels = np.array([(u, v) for u in np.linspace(60, 1860, 20) for v in np.linspace(60, 1020, 15)])
    places = lit(random_rig(rng), pixels) + rng.normal(0, 1 / 32, pixels.shape)
    places[211] += (0.0, 3.0)
    found = found_in(list(marks_of(places, pixels)))
    assert found is not None
    assert found.suspects == ((212,),)
