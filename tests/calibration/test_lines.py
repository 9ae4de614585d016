"""Straight lines of the table stay straight enough under a bent light."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.lens import Lens
from calibration.lines import WITHIN_PX, bends_px, pieces_within
from calibration.table import Table
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_at, random_rig


def bent_table(seed: int, k1: float, k2: float = 0.0) -> Table:
    matrix = random_rig(np.random.default_rng(seed))
    return Table(WIDTH_PX, HEIGHT_PX, matrix, marks_at(matrix, CORNERS), lens=Lens.for_frame(1920, 1080, k1, k2))


def strays_px(table: Table, points_in: np.ndarray) -> float:
    """Farthest the true lit line is from the drawn chords, looked at closely."""
    worst = 0.0
    for start, end in pairwise(points_in):
        true = table.to_frame(start + (end - start) * np.linspace(0, 1, 200)[:, None])
        chord = true[-1] - true[0]
        side = (true - true[0]) @ np.array([-chord[1], chord[0]])
        worst = max(worst, float(np.abs(side).max() / np.hypot(*chord)))
    return worst


@settings(max_examples=40)
@given(seed=st.integers(0, 10**6), k1=st.floats(-0.05, 0.05), k2=st.floats(-0.02, 0.02))
def test_chords_stay_within_a_tenth_of_a_pixel(seed: int, k1: float, k2: float) -> None:
    rng = np.random.default_rng(seed)
    table = bent_table(seed, k1, k2)
    ends = table.to_table(rng.uniform((0, 0), (WIDTH_PX, HEIGHT_PX), (8, 2)))
    for start, end, count in zip(ends[:4], ends[4:], pieces_within(table, ends[:4], ends[4:]), strict=True):
        points = start + (end - start) * np.linspace(0, 1, count + 1)[:, None]
        assert strays_px(table, points) <= WITHIN_PX * 1.01  # looked at in 200 places, not in 16


def test_under_a_plain_lens_a_line_is_one_piece() -> None:
    matrix = random_rig(np.random.default_rng(1))
    table = Table(WIDTH_PX, HEIGHT_PX, matrix, marks_at(matrix, CORNERS))
    start, end = lit(matrix, np.array([(100.0, 100), (1800, 900)]))
    assert pieces_within(table, start, end).tolist() == [1]
    assert bends_px(table, start, end)[0] < 1e-9


def test_a_line_through_the_axis_of_a_bent_light_stays_one_piece() -> None:
    table = bent_table(2, -0.05)
    start, end = table.to_table([(100, 540), (1850, 540)])
    assert pieces_within(table, start, end).tolist() == [1]


def test_a_line_along_the_edge_of_a_bent_frame_is_cut_into_several() -> None:
    table = bent_table(2, -0.05)
    start, end = table.to_table([(10, 10), (1910, 10)])
    assert bends_px(table, start, end)[0] > 5
    assert 4 <= pieces_within(table, start, end)[0] <= 19


def test_a_finer_wish_gives_more_pieces() -> None:
    table = bent_table(2, -0.05)
    start, end = table.to_table([(10, 10), (1910, 10)])
    counts = [pieces_within(table, start, end, within)[0] for within in (1.0, 0.1, 0.01)]
    assert counts[1] == pytest.approx(counts[0] * 10**0.5, rel=0.35)
    assert counts[2] == pytest.approx(counts[1] * 10**0.5, rel=0.35)


def test_no_lines_give_no_pieces() -> None:
    assert pieces_within(bent_table(2, -0.05), np.zeros((0, 2)), np.zeros((0, 2))).shape == (0,)
