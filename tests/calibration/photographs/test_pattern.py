"""The pattern for photographs, for projectors of any size."""

from __future__ import annotations

import numpy as np
import pytest

from calibration.photographs.pattern import NoPattern, Pattern

SIZES = [(1920, 1080), (1280, 800), (1024, 768), (3840, 2160), (1080, 1920), (640, 480)]


def test_a_frame_of_1920_by_1080_holds_24_by_13_fields() -> None:
    # 1920 / 80 = 24 and 1080 / 80 = 13.5; fields of 70 would be 27 x 15 = 405, more than twice the codes in use.
    pattern = Pattern(1920, 1080)
    assert (pattern.side_px, pattern.columns, pattern.rows) == (80, 24, 13)
    assert len(pattern.corners_px) == 23 * 12
    assert len(pattern.white_fields) == 24 * 13 / 2


@pytest.mark.parametrize("size", SIZES)
def test_crosses_stand_in_dark_fields_at_the_ends_of_the_near_edge(size: tuple[int, int]) -> None:
    pattern = Pattern(*size)
    assert not any(pattern.is_white(*field) for field in pattern.cross_fields)
    (left_u, left_v), (right_u, right_v) = pattern.crosses_px.tolist()
    assert left_v == right_v > size[1] * 0.8
    assert right_u - left_u > 0.55 * size[0]


@pytest.mark.parametrize("size", SIZES)
def test_the_board_fills_the_frame_to_less_than_a_field(size: tuple[int, int]) -> None:
    pattern = Pattern(*size)
    spread = np.ptp(pattern.corners_px, axis=0) + 2 * pattern.side_px
    assert (np.array(size) - spread < pattern.side_px).all()
    assert (spread <= size).all()


def test_a_frame_too_small_for_a_pattern_is_refused() -> None:
    with pytest.raises(NoPattern):
        Pattern(90, 1080)
