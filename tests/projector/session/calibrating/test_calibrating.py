"""The calibration by hand, key by key."""

from __future__ import annotations

from fractions import Fraction

import pytest

from calibration.marks import Mark
from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_length
from projector.session.calibrating.scene import lit
from projector.session.calibrating.state import Step, begin
from projector.session.run import parsing
from tests.projector.session.calibrating.by_hand import (
    CORNERS,
    SIZE,
    at_first_cross,
    click,
    keys,
    placed,
    reviewed,
    typed,
)


def test_cautions_come_first_then_the_first_of_four_crosses() -> None:
    state = begin(*SIZE, Unit.INCH)
    assert (state.step, len(state.crosses)) == (Step.CAUTIONS, 4)
    assert at_first_cross().step is Step.POINTING


def test_crosses_start_apart_inside_the_frame_in_the_middle_of_pixels() -> None:
    pixels = [cross.pixel for cross in begin(*SIZE, Unit.INCH).crosses]
    assert len(set(pixels)) == 4
    assert all(u % 1 == 0.5 and v % 1 == 0.5 and 0 < u < SIZE[0] and 0 < v < SIZE[1] for u, v in pixels)


def test_each_cross_starts_where_the_tape_is_likely_to_be() -> None:
    state = at_first_cross()
    seen = []
    for pixel, x, y in CORNERS:
        seen.append(state.cross.pixel)
        state = placed(state, pixel, x, y)
    # The first mark stands at (200.5, 1000.5) of 1920 x 1080: the second is looked for as far in from the right, the
    # third as far down from the top as the second is up from the foot, the fourth closes the parallelogram.
    assert seen[1:] == [(1719.5, 1000.5), (1600.5, 79.5), (200.5, 200.5)]


def test_a_cross_that_was_set_before_stays_where_it_is() -> None:
    state, _ = keys(reviewed(), "2")
    assert state.cross.pixel == (1600.5, 1000.5)
    again, _ = keys(state, "Enter", "Enter", "Enter")
    assert again.step is Step.REVIEW


def test_earlier_marks_give_the_crosses_their_places() -> None:
    marks = [Mark((0, 0), (11.25, 12.5)), Mark((1, 0), (500.5, 12.5))]
    state = begin(*SIZE, Unit.INCH, marks)
    assert [cross.pixel for cross in state.crosses[:2]] == [(11.25, 12.5), (500.5, 12.5)]
    assert len(state.crosses) == 4


def test_earlier_inches_need_only_be_confirmed() -> None:
    marks = [Mark((60.25, 0), (11.25, 12.5)), Mark((0.1, 0), (500.5, 12.5))]
    state = begin(*SIZE, Unit.INCH, marks)
    # 0.1 in is no reading of a tape in 64ths, so it is asked for anew.
    assert [cross.typed for cross in state.crosses[:2]] == [("60 1/4", "0"), ("", "")]
    state, _ = keys(state, "Space", "Enter", "Enter", "Enter")
    assert state.crosses[0].table == (Fraction(241, 4), 0)


def test_earlier_marks_of_another_screen_are_left_aside() -> None:
    marks = [Mark((0, 0), (11.25, 12.5)), Mark((9, 0), (2500.5, 12.5))]
    assert begin(*SIZE, Unit.INCH, marks) == begin(*SIZE, Unit.INCH)


@pytest.mark.parametrize(
    ("key", "moved"),
    [
        ("Left", (-1, 0)),
        ("Up", (0, -1)),
        ("Shift+Right", (10, 0)),
        ("Shift+Down", (0, 10)),
        ("Ctrl+Right", (0.25, 0)),
        ("Ctrl+Up", (0, -0.25)),
    ],
)
def test_arrows_move_the_cross_by_whole_ten_or_quarter_pixels(key: str, moved: tuple[float, float]) -> None:
    state = at_first_cross()
    u, v = state.cross.pixel
    assert keys(state, key)[0].cross.pixel == (u + moved[0], v + moved[1])


def test_a_cross_never_leaves_the_frame() -> None:
    state, _ = keys(at_first_cross(), *["Shift+Left"] * 100, *["Shift+Down"] * 100)
    assert state.cross.pixel == (0, 1080)


def test_a_click_puts_the_cross_on_the_middle_of_that_pixel() -> None:
    assert click(at_first_cross(), (300, 40)).cross.pixel == (300.5, 40.5)


def test_a_click_while_typing_moves_nothing() -> None:
    state, _ = keys(at_first_cross(), "Enter")
    assert click(state, (300, 40)) == state


def test_inches_are_typed_along_then_away() -> None:
    state, _ = keys(at_first_cross(), "Enter", *typed("60 1/4"), "Enter", *typed("-2.5"), "Enter")
    assert state.crosses[0].table == (Fraction(241, 4), Fraction(-5, 2))
    assert (state.at, state.step) == (1, Step.POINTING)


def test_what_is_no_length_is_said_and_stays_to_be_mended() -> None:
    state, _ = keys(at_first_cross(), "Enter", *typed("1/0"), "Enter")
    assert (state.step, state.typing) == (Step.ALONG, "1/0")
    assert "divides by nothing" in state.problem
    mended, _ = keys(state, "Backspace", "2", "Enter")
    assert (mended.step, mended.problem) == (Step.AWAY, "")


def test_an_empty_length_is_refused() -> None:
    state, _ = keys(at_first_cross(), "Enter", "Enter")
    assert state.step is Step.ALONG
    assert "nothing written" in state.problem


def test_backspace_past_the_beginning_goes_back_to_the_inches_along() -> None:
    state, _ = keys(at_first_cross(), "Enter", "7", "Enter", "Backspace")
    assert (state.step, state.typing) == (Step.ALONG, "7")


def test_a_full_stop_is_typed_in_a_length_and_darkens_elsewhere() -> None:
    state = at_first_cross()
    assert keys(state, ".")[0].dark
    assert keys(state, "Enter", "7", ".")[0].typing == "7."


def test_nothing_happens_in_the_dark() -> None:
    dark, _ = keys(at_first_cross(), "B")
    assert keys(dark, "Enter") == (at_first_cross(), [])
    assert click(dark, (1, 1)) == dark
    assert lit(dark).marks == ()


@pytest.mark.parametrize(
    ("text", "inches"), [("32,5", "32.5"), ("-4,25", "-4.25"), ("0,125", "0.125"), ("81,3 cm", "81.3 cm")]
)
def test_a_comma_that_can_only_be_a_decimal_sign_is_one(text: str, inches: str) -> None:
    assert parsing(Unit.INCH)(text) == parse_length(inches, Unit.INCH, signed=True)


@pytest.mark.parametrize("text", ["1,250", "32,125", "1.000,5", "3,2,1", ",5", "32,"])
def test_a_comma_that_may_be_something_else_is_refused(text: str) -> None:
    with pytest.raises(LengthError, match="comma"):
        parsing(Unit.INCH)(text)


def test_a_comma_is_typed_and_never_lost() -> None:
    state = placed(at_first_cross(), (200, 1000), "32,5", "0")
    assert state.crosses[0].typed[0] == "32,5"
