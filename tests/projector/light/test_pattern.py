"""The lit pattern is the board that OpenCV reads, with two crosses that leave it alone."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from calibration.photographs.pattern import CODE_MODULES, MODULES, Pattern
from projector.light.pattern import LIT, pattern_frame


def board_of(pattern: Pattern) -> cv2.aruco.CharucoBoard:
    """OpenCV's own board for the pattern, in frame pixels from the board's corner."""
    side, module = pattern.side_px, pattern.side_px // MODULES
    codes = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_250)
    return cv2.aruco.CharucoBoard((pattern.columns, pattern.rows), side, CODE_MODULES * module, codes)


@pytest.mark.parametrize("size", [(1280, 800), (1080, 1920)])
def test_each_corner_is_read_where_the_pattern_says(size: tuple[int, int]) -> None:
    pattern = Pattern(*size)
    grey = (pattern_frame(pattern) & 255).astype(np.uint8)
    corners, numbers, _, _ = cv2.aruco.CharucoDetector(board_of(pattern)).detectBoard(grey)
    assert sorted(numbers.ravel().tolist()) == list(range(len(pattern.corners_px)))
    # OpenCV counts pixel centres as whole numbers: a border between pixels is at a half. On edges of
    # no width at all it settles up to a fifth of a pixel away, either way.
    apart = corners.reshape(-1, 2) + 0.5 - pattern.corners_px[numbers.ravel()]
    assert np.abs(apart).max() < 0.25
    assert np.abs(apart.mean(axis=0)).max() < 0.1


def test_fields_are_opencv_s_own_but_for_the_crosses() -> None:
    pattern = Pattern(1920, 1080)
    left, top = pattern.start_px
    size = (pattern.columns * pattern.side_px, pattern.rows * pattern.side_px)
    theirs = board_of(pattern).generateImage(size, marginSize=0) > 127
    frame = pattern_frame(pattern)
    ours = frame[top : top + size[1], left : left + size[0]] == LIT
    for column, row in pattern.cross_fields:
        u, v = pattern.corner_of(column, row)
        field = np.s_[v - top : v - top + pattern.side_px, u - left : u - left + pattern.side_px]
        assert ours[field].any()
        ours[field] = theirs[field]
    np.testing.assert_array_equal(ours, theirs)


def test_a_cross_is_the_same_turned_about_its_middle() -> None:
    pattern = Pattern(1920, 1080)
    frame = pattern_frame(pattern)
    for u, v in pattern.crosses_px.astype(int).tolist():
        half = pattern.side_px // 2
        field = frame[v - half : v + half, u - half : u + half]
        np.testing.assert_array_equal(field, field[::-1, ::-1])
        assert field[half, half] == LIT
        assert not field[0].any()
