"""Lengths and places in words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calibration.words import error, length, spot

AREA = [(0, 0), (90, 0), (90, 60), (0, 60)]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0 in"),
        (0.5, "1/2 in"),
        (5 / 32, "5/32 in"),
        (2.0625, "2 1/16 in"),
        (1 / 64, "1/64 in"),
        (-0.25, "-1/4 in"),
    ],
)
def test_lengths_read_as_on_a_tape(value: float, text: str) -> None:
    assert length(value) == text


def test_other_units() -> None:
    assert length(1.0, "cm") == "2.54 cm"
    assert length(1.0, "mm") == "25.4 mm"
    assert error(0.1, "mm") == "2.6 mm"  # 2.54 rounded up
    assert error(0.1, "cm") == "0.26 cm"


@given(st.floats(0, 20))
def test_an_error_is_never_shown_smaller_than_it_is_nor_much_larger(value: float) -> None:
    shown = float(sum(Fraction(part) for part in error(value).removesuffix(" in").split()))
    assert value - 1e-6 <= shown <= value + 1 / 16 + 1e-6


@pytest.mark.parametrize(
    ("point", "where"),
    [
        ((85, 55), "at the far right corner"),
        ((5, 5), "at the near left corner"),
        ((45, 5), "at the middle of the near side"),
        ((88, 30), "at the middle of the right end"),
        ((45, 30), "at the middle"),
        ((67, 5), "between the middle of the near side and the near right corner"),
        ((56, 22), "between the middle and the middle of the near side"),
    ],
)
def test_places_are_told_as_the_person_sees_them(point: tuple[float, float], where: str) -> None:
    assert spot(point, AREA) == where
