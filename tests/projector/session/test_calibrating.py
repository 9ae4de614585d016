"""The calibration by hand, key by key."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.marks import Mark
from calibration.table import Table, fit_table
from jobs.job import Unit
from jobs.lengths import parse_length
from projector.scene.boxes import Box
from projector.scene.lettering import box_of
from projector.scene.marks import Text
from projector.session.calibrating import MOST, Calibrating, CalibrationEvent, LeftUnsaved, Save, Step, begin
from projector.session.calibrating_host import Calibration
from projector.session.calibrating_keys import click, press, refused
from projector.session.calibrating_scene import SHEET_IN, lit, on_sheet, sheet

SIZE = (1920, 1080)
# Pixels and inches of a table seen straight from above at 20 px per inch, u = 200 + 20 x, v = 1000 - 20 y.
CORNERS = (((200, 1000), "0", "0"), ((1600, 1000), "70", "0"), ((1600, 200), "70", "40"), ((200, 200), "0", "40"))


def fit(marks: Sequence[Mark]) -> Table:
    return fit_table(marks, *SIZE)


def parse(text: str) -> Fraction:
    return parse_length(text, Unit.INCH, signed=True)


def keys(state: Calibrating, *names: str) -> tuple[Calibrating, list[CalibrationEvent]]:
    events: list[CalibrationEvent] = []
    for name in names:
        state, new = press(state, name, fit, parse)
        events += new
    return state, events


def typed(text: str) -> list[str]:
    return ["Space" if letter == " " else letter for letter in text]


def at_first_cross() -> Calibrating:
    return keys(begin(*SIZE, Unit.INCH), "Space")[0]


def placed(state: Calibrating, pixel: tuple[int, int], x: str, y: str) -> Calibrating:
    """The cross in hand clicked to ``pixel`` (its middle) and given its inches."""
    return keys(click(state, pixel), "Enter", *typed(x), "Enter", *typed(y), "Enter")[0]


def reviewed() -> Calibrating:
    state = at_first_cross()
    for pixel, x, y in CORNERS:
        state = placed(state, pixel, x, y)
    return state


def test_cautions_come_first_then_the_first_of_four_crosses() -> None:
    state = begin(*SIZE, Unit.INCH)
    assert (state.step, len(state.crosses)) == (Step.CAUTIONS, 4)
    assert at_first_cross().step is Step.POINTING


def test_crosses_start_apart_inside_the_frame_in_the_middle_of_pixels() -> None:
    pixels = [cross.pixel for cross in begin(*SIZE, Unit.INCH).crosses]
    assert len(set(pixels)) == 4
    assert all(u % 1 == 0.5 and v % 1 == 0.5 and 0 < u < SIZE[0] and 0 < v < SIZE[1] for u, v in pixels)


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
    assert "missing" in state.problem


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


def test_four_marks_are_fitted_and_saved() -> None:
    state = reviewed()
    assert state.step is Step.REVIEW
    for key in ("S", "Enter"):
        left, events = keys(state, key)
        assert left.step is Step.LEFT
        assert events == [Save(state.table)]  # type: ignore[arg-type]
    # u = 200.5 + 20 x, v = 1000.5 - 20 y at the middles of the clicked pixels; so (10, 10) lies at (400.5, 800.5).
    assert state.table is not None
    assert state.table.to_frame([(10, 10)])[0].tolist() == pytest.approx([400.5, 800.5], abs=1e-6)


def test_one_mark_can_be_set_again() -> None:
    state, _ = keys(reviewed(), "2")
    assert (state.step, state.at, state.table) == (Step.POINTING, 1, None)
    again, _ = keys(state, "Right", "Enter", "Enter", "Enter")
    assert again.step is Step.REVIEW
    assert again.crosses[1].pixel == (1601.5, 1000.5)
    assert again.crosses[1].table == (70, 0)


def test_a_number_without_a_mark_does_nothing() -> None:
    assert keys(reviewed(), "5") == (reviewed(), [])
    assert keys(reviewed(), "0") == (reviewed(), [])


def test_a_fifth_mark_shows_how_far_off_the_fit_leaves_each() -> None:
    state, _ = keys(reviewed(), "A")
    assert (len(state.crosses), state.at) == (5, 4)
    state = placed(state, (900, 1000), "35", "1/4")
    assert state.table is not None
    assert len(state.table.residuals_px) == 5
    assert 0.5 < max(state.table.residuals_px) < 5
    without, _ = keys(state, "Delete")
    assert without.crosses == reviewed().crosses
    assert without.table == reviewed().table


def test_four_marks_are_the_fewest_and_a_dozen_the_most() -> None:
    assert keys(reviewed(), "Delete") == (reviewed(), [])
    state = reviewed()
    for i in range(20):
        state = keys(state, "A")[0]
        if state.step is Step.POINTING:
            state = placed(state, (300 + 60 * i, 600), str(5 + 3 * i), "20")
    assert len(state.crosses) == MOST


def test_marks_that_cannot_be_fitted_are_said_in_words_and_can_be_set_again() -> None:
    state, _ = keys(reviewed(), "2", "Enter", "Backspace", "Backspace", "0", "Enter", "Enter")
    assert (state.step, state.table) == (Step.REVIEW, None)
    assert "marks 1 and 2 are at the same place on the table" in state.problem
    assert keys(state, "S") == (state, [])
    mended, _ = keys(state, "2", "Enter", "Backspace", *typed("70"), "Enter", "Enter")
    assert mended.table == reviewed().table


def test_leaving_with_marks_made_asks_once() -> None:
    asked, events = keys(reviewed(), "Esc")
    assert (asked.step, events) == (Step.LEAVE, [])
    assert keys(asked, "Space")[0].step is Step.REVIEW
    assert keys(asked, "Esc")[1] == [LeftUnsaved()]


def test_leaving_before_any_mark_is_made_loses_nothing_and_does_not_ask() -> None:
    assert keys(begin(*SIZE, Unit.INCH), "Esc")[1] == [LeftUnsaved()]


def test_escape_while_typing_goes_back_to_the_cross() -> None:
    assert keys(at_first_cross(), "Enter", "5", "Esc")[0].step is Step.POINTING


def test_a_table_that_cannot_be_written_is_not_lost() -> None:
    def read_only(table: Table) -> None:
        raise PermissionError(13, "Permission denied")

    host = Calibration(SIZE, Unit.INCH, fit, parse, read_only)
    host.state = reviewed()
    assert host.key("S", 1.0)
    assert (host.finished, host.saved, host.state.step) == (False, None, Step.REVIEW)
    assert "Permission denied" in host.state.problem
    assert host.state.crosses == reviewed().crosses
    assert refused(reviewed(), "no").table == reviewed().table


def test_the_sheet_maps_its_corners_to_the_frame_and_keeps_letters_upright() -> None:
    table = sheet(*SIZE)
    assert table.to_frame([(0, SHEET_IN), (0, 0)]).tolist() == [[0, 0], [0, 1080]]
    pixel = (123.5, 456.25)
    assert table.to_frame([on_sheet(pixel, 1080)])[0].tolist() == pytest.approx(pixel, abs=1e-9)


KEYS = st.sampled_from(
    [
        "Enter",
        "Esc",
        "A",
        "R",
        "S",
        "Delete",
        "Backspace",
        "B",
        "Left",
        "Shift+Up",
        "PageUp",
        "Space",
        "/",
        "-",
        ".",
        "0",
        "1",
        "2",
        "3",
        "4",
        "5",
        "6",
        "7",
        "8",
        "9",
    ]
)


@given(st.lists(KEYS, max_size=80), st.integers(1, 4))
@settings(max_examples=60, deadline=None)
def test_whatever_is_typed_the_words_fit_the_frame_and_cover_no_cross(names: list[str], size: int) -> None:
    width, height = ((1920, 1080), (1024, 768), (1280, 720), (3840, 2160))[size - 1]
    state = begin(width, height, Unit.CENTIMETRE)
    for i, name in enumerate(names):
        # Clicks far apart, so that runs of Enter and digits reach a fit now and then.
        state = click(state, ((37 * i * i) % width, (91 * i) % height))
        state, events = press(state, name, fit, parse)
        for event in events:
            assert isinstance(event, Save | LeftUnsaved)
            assert state.step is Step.LEFT
    scene = lit(state)
    frame = Box(0, 0, SHEET_IN * width / height, SHEET_IN)
    said = [mark for mark in scene.marks if isinstance(mark, Text) and not mark.text.isdigit()]
    assert (not said) == (state.dark or state.step is Step.LEFT)
    for text in said:
        assert frame.grown(1e-9).holds(box_of(text))


def test_metric_jobs_read_and_show_their_own_unit() -> None:
    def parse_cm(text: str) -> Fraction:
        return parse_length(text, Unit.CENTIMETRE, signed=True)

    host = Calibration(SIZE, Unit.CENTIMETRE, fit, parse_cm, lambda table: None)
    host.key("Space", 1.0)
    for (u, v), x, y in CORNERS:
        host.click((u, v))
        for name in ("Enter", *x, "Enter", *y, "Enter"):
            host.key(name, 1.0)
    texts = [mark.text for mark in host.scene.marks if isinstance(mark, Text)]
    assert any("70, 40 cm" in text and "mm" in text for text in texts)
    # 70 cm = 7000/254 in, exactly.
    assert host.state.crosses[2].table == (Fraction(7000, 254), Fraction(4000, 254))
