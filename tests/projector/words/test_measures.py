"""Lengths and numbers of marks in words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projector.words.measures import format_error, format_length, format_marks


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
    assert format_length(value) == text


def test_other_units() -> None:
    assert format_length(1.0, "cm") == "2.54 cm"
    assert format_length(1.0, "mm") == "25.4 mm"
    assert format_error(0.1, "mm") == "2.6 mm"  # 2.54 rounded up
    assert format_error(0.1, "cm") == "0.26 cm"


@given(st.floats(0, 20))
def test_an_error_is_never_shown_smaller_than_it_is_nor_much_larger(value: float) -> None:
    shown = float(sum(Fraction(part) for part in format_error(value).removesuffix(" in").split()))
    assert value - 1e-6 <= shown <= value + 1 / 16 + 1e-6


def test_many_marks_are_named_by_the_first_and_how_many() -> None:
    assert format_marks([3]) == "mark 3"
    assert format_marks([1, 2, 4]) == "marks 1, 2 and 4"
    assert format_marks(range(1, 51)) == "marks 1, 2, 3, 4, 5 and 45 more"
