"""Has anything moved, and can a shift or a turn mend it?"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.height import LensPosition
from calibration.homography import apply, inverse
from calibration.marks import Mark, TapeCheck
from calibration.moved import Mend, find_move
from calibration.table import Table, fit_table
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, random_rig

PLACES = np.array([(10.0, 8.0), (70.0, 30.0)])
EXACT_IN = 1e-6


def push(dx: float, dy: float, turn_deg: float) -> np.ndarray:
    """From table inches after a push to table inches before it (3, 3)."""
    turn = math.radians(turn_deg)
    return np.array([[math.cos(turn), -math.sin(turn), dx], [math.sin(turn), math.cos(turn), dy], [0, 0, 1]])


def calibrated(seed: int = 1) -> tuple[np.ndarray, Table]:
    matrix = random_rig(np.random.default_rng(seed))
    return matrix, fit_table(marks_at(matrix, CORNERS), WIDTH_PX, HEIGHT_PX)


def seen_after(table: Table, pushed: np.ndarray, places: np.ndarray = PLACES) -> list[Mark]:
    """The known places with the pixels that meet them after the push."""
    before = places @ pushed[:2, :2].T + pushed[:2, 2]
    pixels = table.to_frame(before).tolist()
    return [Mark((float(x), float(y)), (u, v)) for (x, y), (u, v) in zip(places, pixels, strict=True)]


def test_marks_still_met_mean_nothing_has_moved() -> None:
    _, table = calibrated()
    move = find_move(table, seen_after(table, push(0.01, -0.01, 0)))
    assert move.mend == Mend.NOTHING
    assert move.mended(table) is table


def test_one_mark_mends_a_shift_and_says_what_it_cannot_see() -> None:
    _, table = calibrated()
    move = find_move(table, seen_after(table, push(0.25, -0.5, 0), PLACES[:1]))
    assert move.mend == Mend.SHIFT
    np.testing.assert_allclose(move.shift_in, (0.25, -0.5), atol=EXACT_IN)
    anywhere = np.array([(40.0, 20.0)])
    np.testing.assert_allclose(
        move.mended(table).to_frame(anywhere), table.to_frame(np.add(anywhere, (0.25, -0.5))), atol=1e-5
    )


@settings(max_examples=40)
@given(dx=st.floats(-0.8, 0.8), dy=st.floats(-0.8, 0.8), turn=st.floats(-0.6, 0.6), seed=st.integers(0, 50))
def test_two_marks_mend_a_shift_and_turn(dx: float, dy: float, turn: float, seed: int) -> None:
    _, table = calibrated(seed)
    pushed = push(dx, dy, turn)
    move = find_move(table, seen_after(table, pushed))
    if move.mend == Mend.SHIFT_AND_TURN:
        anywhere = np.array([(40.0, 20.0), (15.0, 30.0)])
        wanted = table.to_frame(anywhere @ pushed[:2, :2].T + pushed[:2, 2])
        np.testing.assert_allclose(move.mended(table).to_frame(anywhere), wanted, atol=1e-5)
        assert move.turn_deg == pytest.approx(turn, abs=1e-6)
    elif move.mend == Mend.SHIFT:
        assert abs(turn) < 0.1
    elif move.mend == Mend.NOTHING:
        assert max(move.misses_in) <= 1 / 32


def test_a_turn_is_told_in_degrees_with_its_sign() -> None:
    _, table = calibrated()
    move = find_move(table, seen_after(table, push(0, 0, 0.4)))
    assert move.mend == Mend.SHIFT_AND_TURN
    assert move.turn_deg == pytest.approx(0.4)


@pytest.mark.parametrize("pushed", [push(3, 0, 0), push(0, 0, 2), np.diag([1.01, 1.01, 1.0])])
def test_a_knock_a_large_turn_and_a_changed_size_need_a_new_calibration(pushed: np.ndarray) -> None:
    _, table = calibrated()
    move = find_move(table, seen_after(table, pushed))
    assert move.mend == Mend.REDO
    with pytest.raises(ValueError, match="calibrating anew"):
        move.mended(table)


def test_what_is_mended_keeps_its_marks_errors_and_lens_and_loses_its_proof() -> None:
    _, table = calibrated()
    table = replace(table, lens_position=LensPosition((40, 20), 90), tape_check=TapeCheck(()))
    mended = find_move(table, seen_after(table, push(0.5, 0.25, 0.3))).mended(table)
    assert mended.rms_px < 1e-6
    assert mended.tape_check is None
    assert mended.lens_position is not None
    assert mended.lens_position.height_in == 90
    np.testing.assert_allclose(Uncertainty(mended).worst().error_in, Uncertainty(table).worst().error_in, rtol=1e-6)
    assert mended.marks != table.marks


@pytest.mark.parametrize("count", [0, 3])
def test_other_numbers_of_marks_are_refused(count: int) -> None:
    _, table = calibrated()
    with pytest.raises(ValueError, match="one or two"):
        find_move(table, [table.marks[0]] * count)


def test_two_marks_at_one_place_are_refused() -> None:
    _, table = calibrated()
    with pytest.raises(ValueError, match="too close"):
        find_move(table, [table.marks[0], table.marks[0]])


def test_a_table_for_raised_cloth_lights_where_similar_triangles_say() -> None:
    matrix, table = calibrated()
    lens = LensPosition((40, 20), 96)
    raised = replace(table, lens_position=lens).on_surface(0.25)
    wanted = np.array([(76.0, 20.0), (40.0, 20.0)])
    falls = lit(matrix, raised.to_frame(wanted))  # where the light would meet the bare table
    np.testing.assert_allclose(apply(inverse(lens.aiming(0.25)), falls), wanted, atol=1e-7)
    # 36 from the foot the light must be aimed 36 / (1 - 0.25/96) = 36.0940 out.
    assert falls[0, 0] - 40 == pytest.approx(36 / (1 - 0.25 / 96), abs=1e-7)
    assert raised.lens_position == LensPosition((40, 20), 95.75)
    with pytest.raises(ValueError, match="lens position"):
        table.on_surface(0.25)
