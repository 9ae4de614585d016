"""The proof with a tape: lengths lit, readings typed, the verdict, and what is kept."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.homography import OutOfReach
from calibration.marks import Placing, TapeCheck, TapeClass
from calibration.table import Table, fit_table
from calibration.tape import Stretch, TapeResult
from jobs.model.choices import Unit
from projector.demo.virtual_projector import marks_of
from projector.files.write import CannotWrite
from projector.scene.boxes import Box
from projector.scene.lettering import box_of
from projector.scene.marks import Kind, Stroke, Text
from projector.session import run
from projector.session.actions import Action
from projector.session.calibrating.tape_check import TapeChecking, TapeStep, begin_tape_check, check_of, keys_of, press
from projector.session.calibrating.tape_check_mode import CheckByTape, tape_lit
from projector.session.calibrating.tape_check_text import scale_in_words
from projector.session.layout import words_area
from projector.session.mode import Rim
from projector.session.run import parsing
from tests.projector.session.hands import ANY, DUMMY, ENTER, Hands, rested, typed
from tests.projector.session.sessions import key
from tests.projector.session.tables import PLACES, projector_of

SURE = Placing(1 / 256, 1 / 16)


def table_of(width_px: int = 1920, height_px: int = 1080) -> Table:
    """Marks placed so well that a proof can be accepted."""
    marks = marks_of(projector_of(width_px, height_px), PLACES)
    return fit_table(marks, width_px, height_px, placing=SURE)


def begun(unit: Unit = Unit.INCH) -> TapeChecking:
    return keys(begin_tape_check(table_of(), unit, date="2026-03-04"), "Space")[0]


def keys(state: TapeChecking, *names: str) -> tuple[TapeChecking, list[TapeCheck]]:
    events: list[TapeCheck] = []
    for name in names:
        state, new = press(state, keys_of(state.step).get(name, Action.ANY_OTHER), parsing(state.unit))
        events += new
    return state, events


def measured(state: TapeChecking, stretch: float = 1.0, step: float = 1 / 16) -> TapeChecking:
    """Every length typed as a tape would show it that reads ``stretch`` times what is lit."""
    for length in state.lengths:
        tape = round(math.dist(length.start_in, length.end_in) * stretch / step) * step
        state = keys(state, *f"{tape:g}", "Enter")[0]
    return state


def said(state: TapeChecking) -> str:
    return " ".join(mark.text for mark in tape_lit(state).marks if isinstance(mark, Text))


def test_six_lengths_are_lit_along_across_and_slantwise() -> None:
    state = begun()
    assert len(state.lengths) == 6
    runs = {result.runs for result in measured(state).result.readings}  # type: ignore[union-attr]
    assert runs == {"along", "across", "diagonal"}


def test_the_length_in_hand_is_lit_from_tick_to_tick() -> None:
    state = begun()
    lines = [mark.points for mark in tape_lit(state).marks if isinstance(mark, Stroke) and mark.kind is Kind.TARGET]
    assert lines[0] == (state.length.start_in, state.length.end_in)
    assert len(lines) == 3


def test_what_is_lit_is_not_told_before_it_is_measured() -> None:
    assert " lit " not in said(begun())
    assert "than lit" not in said(begun())


def test_readings_that_agree_are_accepted_and_kept_with_their_date() -> None:
    state = measured(begun())
    assert state.step is TapeStep.VERDICT
    assert "can be used" in said(state)
    state, events = keys(state, "S")
    assert state.step is TapeStep.LEFT
    (event,) = events
    assert (event.accepted, event.date, len(event.readings)) == (True, "2026-03-04", 6)


def test_a_table_measured_one_percent_too_long_is_found_out_and_kept_as_refused() -> None:
    state = measured(begun(), 1.01)
    assert "Calibrate anew" in said(state)
    (event,) = keys(state, "Enter")[1]
    assert not event.accepted


def test_lengths_may_be_left_out_and_then_more_is_asked_for() -> None:
    state = begun()
    for length in state.lengths[:2]:
        state = keys(state, *f"{round(math.dist(length.start_in, length.end_in) * 16) / 16:g}", "Enter")[0]
    state = keys(state, *["Enter"] * 4)[0]
    assert state.step is TapeStep.VERDICT
    assert "Measure more" in said(state)
    assert "left out" in said(state)


def test_at_least_one_length_is_measured() -> None:
    state = keys(begun(), *["Enter"] * 6)[0]
    assert (state.step, state.at) == (TapeStep.READING, 0)
    assert "No length was measured" in said(state)


def test_what_is_no_length_is_said_and_stays_to_be_mended() -> None:
    state = keys(begun(), *"1/0", "Enter")[0]
    assert (state.at, state.typing) == (0, "1/0")
    assert "divides by nothing" in said(state)
    state = keys(begun(), *"-3", "Enter")[0]
    assert state.at == 0
    assert state.problem


def test_a_length_is_measured_again_and_the_others_stay() -> None:
    state = measured(begun())
    again = keys(state, "3")[0]
    assert (again.step, again.at) == (TapeStep.READING, 2)
    back = keys(again, *["Backspace"] * 16, *"12", "Enter")[0]
    assert back.step is TapeStep.VERDICT
    assert back.lengths[3:] == state.lengths[3:]
    assert "Calibrate anew" in said(back)


def test_centimetres_are_read_and_shown() -> None:
    state = begun(Unit.CENTIMETRE)
    state = keys(state, *"100.5", "Enter")[0]
    assert state.readings[0].tape_in == pytest.approx(100.5 / 2.54)


def test_leaving_with_readings_asks_once() -> None:
    state = keys(begun(), *"12", "Enter")[0]
    asked, events = keys(state, "Esc")
    assert (asked.step, events) == (TapeStep.LEAVE, [])
    assert keys(asked, "Space")[0].step is TapeStep.READING
    assert keys(asked, "Esc")[1] == []
    assert keys(begun(), "Esc")[1] == []


def test_nothing_happens_in_the_dark() -> None:
    dark = keys(begun(), "B")[0]
    assert tape_lit(dark).marks == ()
    assert keys(dark, "Enter")[0] == begun()


def test_a_proof_that_cannot_be_written_is_not_lost() -> None:
    def read_only(proof: TapeCheck) -> None:
        raise CannotWrite(Path("t.yaml"), "it cannot be written", "free some room")

    host = CheckByTape(measured(begun()), parsing(Unit.INCH), read_only)
    assert key(host, "S", 1.0)
    assert (host.finished, host.kept) == (False, None)
    assert "free some room" in said(host.state)


def test_a_proof_without_readings_is_none() -> None:
    assert check_of(table_of(), TapeCheck(()), "") is None


def test_light_too_slanting_for_lengths_is_refused() -> None:
    # v = (1000 + 20 y) / (1 + y / 20) tends to 400: the frame above that row lies beyond the horizon of this map.
    matrix = np.array([[8.0, 0, 960], [0, 20.0, 1000], [0, 0.05, 1.0]])
    slanting = replace(table_of(), matrix=matrix, marks=())
    with pytest.raises(OutOfReach):
        begin_tape_check(slanting, Unit.INCH)


NAMES = st.sampled_from(
    ["Enter", "Esc", "S", "R", "B", "Backspace", "PageUp", "PageDown", "Left", "Space", "/", ".", "-", *"0123456789"]
)


@given(st.lists(NAMES, max_size=60))
@settings(max_examples=60)
def test_whatever_is_typed_words_stay_in_the_light_and_nothing_is_lost(names: list[str]) -> None:
    state, events = keys(begun(), *names)
    assert state.step is TapeStep.LEFT or not events
    area = words_area(state.table)
    box = Box(*(f([p[i] for p in area]) for f, i in ((min, 0), (min, 1), (max, 0), (max, 1))))
    for mark in tape_lit(state).marks:
        if isinstance(mark, Text) and not mark.text.isdigit():
            assert box.grown(1e-6).holds(box_of(mark))


def test_a_proof_is_made_on_a_screen() -> None:
    table = table_of(*DUMMY)
    lengths = begin_tape_check(table, Unit.INCH).lengths
    presses: list = [ANY]
    for length in lengths:
        tape = round(math.dist(length.start_in, length.end_in) * 16) / 16
        presses += [*typed(f"{tape:g}"), ENTER]
    kept: list[TapeCheck] = []
    hands = Hands(*presses, ENTER)
    begun = begin_tape_check(table, Unit.INCH, TapeClass.I)
    proof = run.run_tape_check(begun, kept.append, Rim(on_frame=hands, clock=rested()))
    hands.done()
    assert proof is not None
    assert kept == [proof]
    assert (proof.accepted, proof.tape) == (True, TapeClass.I)


def test_a_scale_error_within_chance_is_told_as_such() -> None:
    result = TapeResult((), Stretch(0.004, 0.001), Stretch(-0.001, 0.001), 1 / 16)
    along, across = scale_in_words(result)
    assert along == "Scale along: the tape reads 0.400% longer (give or take 0.200%), more than chance"
    assert across == "Scale across: the tape reads 0.100% shorter (give or take 0.200%), no more than chance"
