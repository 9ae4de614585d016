"""The comparer of pictures must be able to fail."""

import numpy as np
import pytest

from tests.projector.pictures import assert_same_strokes, unmatched


def a_line() -> np.ndarray:
    frame = np.zeros((120, 700), np.uint32)
    frame[60, 40:640] = 0xFFFFFF
    return frame


def test_equal_pictures_match() -> None:
    assert_same_strokes(a_line(), a_line())


def test_a_line_one_pixel_off_still_matches_and_two_pixels_off_does_not() -> None:
    assert_same_strokes(a_line(), np.roll(a_line(), 1, axis=0))
    with pytest.raises(AssertionError, match="1200 pixels without a partner"):
        assert_same_strokes(a_line(), np.roll(a_line(), 2, axis=0))


def test_a_missing_line_of_600_pixels_is_found_whichever_picture_lacks_it() -> None:
    more = a_line()
    more[20, 40:640] = 0x0000FF
    assert len(unmatched(a_line(), more)) == len(unmatched(more, a_line())) == 600


def test_two_dark_pictures_prove_nothing() -> None:
    dark = np.zeros((5, 5), np.uint32)
    with pytest.raises(AssertionError, match="dark"):
        assert_same_strokes(dark, dark)
