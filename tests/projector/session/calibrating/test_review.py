"""The calibration by hand, after four marks: residuals, one set again, more, saving, leaving."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.table import Table
from jobs.model.choices import Unit
from jobs.model.lengths import parse_length
from projector.scene.boxes import Box
from projector.scene.lettering import box_of
from projector.scene.marks import Text
from projector.session.calibrating.mode import Calibration
from projector.session.calibrating.reducer import refused
from projector.session.calibrating.scene import SHEET_IN, lit, on_sheet, sheet
from projector.session.calibrating.state import MOST, Save, Step, begin
from tests.projector.session.calibrating.by_hand import (
    CORNERS,
    SIZE,
    at_first_cross,
    click,
    fit,
    keys,
    parse,
    placed,
    reviewed,
    typed,
)
from tests.projector.session.sessions import key


def test_four_marks_are_fitted_and_saved() -> None:
    state = reviewed()
    assert state.step is Step.REVIEW
    for name in ("S", "Enter"):
        left, events = keys(state, name)
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
    assert 0.4 < max(state.table.residuals_px) < 5
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
    assert keys(asked, "Esc")[1] == []


def test_leaving_before_any_mark_is_made_loses_nothing_and_does_not_ask() -> None:
    assert keys(begin(*SIZE, Unit.INCH), "Esc")[1] == []


def test_escape_while_typing_goes_back_to_the_cross() -> None:
    assert keys(at_first_cross(), "Enter", "5", "Esc")[0].step is Step.POINTING


def test_a_table_that_cannot_be_written_is_not_lost() -> None:
    def read_only(table: Table) -> None:
        raise PermissionError(13, "Permission denied")

    host = Calibration(begin(*SIZE, Unit.INCH), fit, parse, read_only)
    host.state = reviewed()
    assert key(host, "S", 1.0)
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
        "C",
        "X",
        "Y",
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
@settings(max_examples=60)
def test_whatever_is_typed_the_words_fit_the_frame_and_cover_no_cross(names: list[str], size: int) -> None:
    width, height = ((1920, 1080), (1024, 768), (1280, 720), (3840, 2160))[size - 1]
    state = begin(width, height, Unit.CENTIMETRE)
    for i, name in enumerate(names):
        # Clicks far apart, so that runs of Enter and digits reach a fit now and then.
        state = click(state, ((37 * i * i) % width, (91 * i) % height))
        state, events = keys(state, name)
        assert state.step is Step.LEFT or not events
    scene = lit(state)
    frame = Box(0, 0, SHEET_IN * width / height, SHEET_IN)
    said = [mark for mark in scene.marks if isinstance(mark, Text) and not mark.text.isdigit()]
    assert (not said) == (state.dark or state.step is Step.LEFT)
    for text in said:
        assert frame.grown(1e-9).holds(box_of(text))


def test_metric_jobs_read_and_show_their_own_unit() -> None:
    def parse_cm(text: str) -> Fraction:
        return parse_length(text, Unit.CENTIMETRE, signed=True)

    host = Calibration(begin(*SIZE, Unit.CENTIMETRE), fit, parse_cm, lambda table: None)
    key(host, "Space", 1.0)
    for (u, v), x, y in CORNERS:
        host.act(host.action_at((u, v)), 1.0)
        for name in ("Enter", *x, "Enter", *y, "Enter"):
            key(host, name, 1.0)
    texts = [mark.text for mark in host.lit().scene.marks if isinstance(mark, Text)]
    assert any("70, 40 cm" in text and "mm" in text for text in texts)
    # 70 cm = 7000/254 in, exactly.
    assert host.state.crosses[2].table == (Fraction(7000, 254), Fraction(4000, 254))
