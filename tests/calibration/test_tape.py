"""The tape proof: tape classes, readings, scale errors and what to do."""

from __future__ import annotations

import math

import numpy as np
import pytest

from calibration.checking import Verdict
from calibration.fitting import PLAIN
from calibration.marks import Placing, TapeClass, TapeReading
from calibration.problems import Code, ReadingsRefused
from calibration.table import Table, fit_table, frame_grid
from calibration.tape import (
    Action,
    ReadingResult,
    Stretch,
    TapeResult,
    action_after,
    judge_tape,
    lengths_to_light,
    tape_limit_in,
)
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, marks_at

SQUARE_ON = np.array([[20.0, 0, 100], [0, -20, 1000], [0, 0, 1]])
MM = 1 / 25.4


def table(placing: Placing | None = None) -> Table:
    marks = marks_at(SQUARE_ON, frame_grid(WIDTH_PX, HEIGHT_PX, 3, 3, 0.05))
    return fit_table(marks, WIDTH_PX, HEIGHT_PX, placing=placing or Placing(1 / 64, 0.1))


def readings(along: float = 1.0, across: float = 1.0) -> list[TapeReading]:
    """What an honest tape, read to 1/16 in, says when places are stretched by these factors."""
    found = []
    for start, end in lengths_to_light(table()):
        size = math.hypot((end[0] - start[0]) * along, (end[1] - start[1]) * across)
        found.append(TapeReading(start, end, round(size * 16) / 16))
    return found


@pytest.mark.parametrize(
    ("tape", "metres", "limit_mm"),
    [
        # OIML R 35-1 (and EU 2014/32 annex X): a + b L, L in metres rounded up.
        (TapeClass.I, 1, 0.2),
        (TapeClass.II, 1, 0.5),
        (TapeClass.III, 1, 1.0),
        (TapeClass.I, 3, 0.4),
        (TapeClass.II, 3, 0.9),
        (TapeClass.III, 3, 1.8),
        (TapeClass.I, 5, 0.6),
        (TapeClass.II, 5, 1.3),
        (TapeClass.III, 5, 2.6),
        (TapeClass.II, 2.01, 0.9),
    ],
)
def test_tape_classes_allow_what_the_recommendation_says(tape: TapeClass, metres: float, limit_mm: float) -> None:
    assert tape_limit_in(tape, metres * 1000 * MM) == pytest.approx(limit_mm * MM)


def test_metal_tapes_to_the_handbook() -> None:
    # NIST Handbook 44, 5.52: to 6 ft 1/32 in, 7 to 30 ft 1/16 in.
    assert tape_limit_in(TapeClass.METAL, 72) == 1 / 32
    assert tape_limit_in(TapeClass.METAL, 84) == 1 / 16
    assert tape_limit_in(TapeClass.METAL, 360) == 1 / 16


@pytest.mark.parametrize("length", [0.0, -1.0, 361.0, float("nan")])
def test_lengths_no_tape_proof_has_are_refused(length: float) -> None:
    with pytest.raises(ReadingsRefused, match=Code.BEYOND_A_TAPE):
        tape_limit_in(TapeClass.II, length)


def test_an_honest_tape_is_accepted() -> None:
    result = judge_tape(table(), readings())
    assert result.verdict == Verdict.AGREES
    assert action_after(result) == Action.ACCEPT
    assert {one.runs for one in result.readings} == {"along", "across", "diagonal"}
    for stretch in (result.along, result.across):
        assert stretch is not None
        assert not stretch.matters


def test_what_a_reading_may_be_off_has_three_parts() -> None:
    (one,) = judge_tape(table(), [TapeReading((10, 20), (50, 20), 40.0)], TapeClass.II, 1 / 16).readings
    # Class II on 40 in = 1.016 m: 0.3 + 0.2 * 2 = 0.7 mm limit; reading 1/16 in: 0.0180 in.
    tape, reading = 0.7 * MM / math.sqrt(3), 0.0625 / math.sqrt(12)
    assert one.allowed_in**2 == pytest.approx(1.959964**2 * (tape**2 + reading**2) + one.map_in**2)


@pytest.mark.parametrize(("along", "across", "way"), [(1.01, 1.0, "along"), (1.0, 0.99, "across")])
def test_a_scale_error_is_found_and_named(along: float, across: float, way: str) -> None:
    result = judge_tape(table(), readings(along, across))
    assert result.along is not None
    assert result.across is not None
    assert result.along.share == pytest.approx(along - 1, abs=3 * result.along.uncertainty)
    assert result.across.share == pytest.approx(across - 1, abs=3 * result.across.uncertainty)
    assert list(result.stretched) == [way]
    assert action_after(result) == Action.REDO


def test_one_wild_reading_asks_to_start_again() -> None:
    found = readings()
    found[3] = TapeReading(found[3].start_in, found[3].end_in, found[3].tape_in + 3)
    result = judge_tape(table(), found)
    assert result.readings[3].verdict == Verdict.MISSES
    assert action_after(result) == Action.REDO


def test_one_length_alone_is_too_little() -> None:
    result = judge_tape(table(), readings()[:1])
    assert result.across is None
    assert action_after(result) == Action.MEASURE_MORE


def test_a_doubtful_reading_is_taken_once_more() -> None:
    found = readings()
    one = judge_tape(table(), found).readings[2]
    found[2] = TapeReading(found[2].start_in, found[2].end_in, one.lit_in + 1.15 * one.allowed_in)
    result = judge_tape(table(), found)
    assert result.readings[2].verdict == Verdict.DOUBTFUL


def test_careful_marks_that_a_tape_agrees_with_are_accepted() -> None:
    # Before the tape four marks could leave lengths off by more than 1/16 in; a reading to 1/16 in says they are not.
    few = fit_table(table().marks[::2][:2] + table().marks[6::2], WIDTH_PX, HEIGHT_PX)
    result = judge_tape(few, readings())
    assert max(one.map_in for one in result.readings) > result.tolerance_in
    assert max(one.left_in for one in result.readings) < result.tolerance_in
    assert action_after(result) == Action.ACCEPT


def test_what_is_left_after_a_reading_is_less_than_map_and_tape_alone() -> None:
    one = judge_tape(table(), readings()).readings[0]
    tape_alone = (one.allowed_in**2 - one.map_in**2) ** 0.5
    assert 1 / one.left_in**2 == pytest.approx(1 / one.map_in**2 + 1 / tape_alone**2)


def test_clumsy_marks_and_a_coarse_tape_agree_but_prove_too_little() -> None:
    few = fit_table(table().marks[::2][:2] + table().marks[6::2], WIDTH_PX, HEIGHT_PX, placing=Placing(1 / 8, 1))
    result = judge_tape(few, readings(), nearest_in=1 / 4)
    assert action_after(result) == Action.ADD_MARKS


def test_honest_readings_agree_in_about_95_of_100_trials() -> None:
    rng = np.random.default_rng(2)
    true_marks = marks_at(SQUARE_ON, frame_grid(WIDTH_PX, HEIGHT_PX, 3, 2, 0.05))
    agrees = []
    for _ in range(200):
        shaken = [type(mark)(tuple(np.array(mark.table) + rng.normal(0, 1 / 32, 2)), mark.pixel) for mark in true_marks]
        made = fit_table(shaken, WIDTH_PX, HEIGHT_PX, placing=Placing(1 / 32, 0.0), lens_prior=PLAIN)
        ends = [(np.array(start), np.array(end)) for start, end in lengths_to_light(made)]
        taken = []
        for start, end in ends:
            lit = np.linalg.inv(SQUARE_ON)
            pixels = made.to_frame([start, end])
            falls = (pixels @ lit[:2, :2].T) + lit[:2, 2]
            size = float(np.linalg.norm(falls[1] - falls[0]))
            off = rng.uniform(-1, 1) * tape_limit_in(TapeClass.II, size)
            taken.append(TapeReading(tuple(start), tuple(end), round((size + off) * 16) / 16))
        agrees += [one.verdict == Verdict.AGREES for one in judge_tape(made, taken).readings]
    assert 0.93 <= np.mean(agrees) <= 0.975


@pytest.mark.parametrize("nearest", [0.0, -1.0, float("nan")])
def test_a_proof_without_readings_or_step_is_refused(nearest: float) -> None:
    with pytest.raises(ValueError, match="readings"):
        judge_tape(table(), readings(), nearest_in=nearest)
    with pytest.raises(ValueError, match="readings"):
        judge_tape(table(), [])


@pytest.mark.parametrize("way", [1, -1])
def test_a_scale_error_is_more_than_chance_beyond_2_58_standard_uncertainties(way: int) -> None:
    # 99 of 100 normal errors stay within 2.576 (normal distribution, two-sided).
    assert not Stretch(way * 0.00257, 0.001).matters
    assert Stretch(way * 0.00258, 0.001).matters


@pytest.mark.parametrize(("share", "found"), [(0.00064, []), (0.00066, ["along"]), (-0.00066, ["along"])])
def test_a_scale_error_counts_when_it_is_more_than_half_the_tolerance_on_the_longest_reading(
    share: float, found: list[str]
) -> None:
    # Half of 1/16 in on 48 in is a share of 0.000651.
    one = ReadingResult(TapeReading((0, 0), (48, 0), 48.0), 48.0, 0.0, 0.1, 0.1, 0.05, Verdict.AGREES)
    result = TapeResult((one,), Stretch(share, 0.0001), None, 1 / 16)
    assert list(result.stretched) == found
    assert (action_after(result) is Action.REDO) is bool(found)
