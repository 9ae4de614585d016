"""What a calibration by hand says of itself: how good it is, what would help, what is mistyped; and the keys for it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from calibration.checking import Verdict
from calibration.marks import Mark
from jobs.model.choices import Unit
from projector.scene.marks import Kind, Stroke, Text
from projector.session.calibrating.findings import slip_in
from projector.session.calibrating.scene import lit, proposed
from projector.session.calibrating.state import MOST, Calibrating, Save, Step, begin
from tests.projector.session.calibrating.by_hand import SIZE, at_first_cross, keys, placed, reviewed, typed

# As in by_hand: u = 200 + 20 x, v = 1000 - 20 y; marks crowded in the left half of the light.
CROWDED = (((200, 1000), "0", "0"), ((700, 1000), "25", "0"), ((700, 600), "25", "20"), ((200, 600), "0", "20"))


def crowded() -> Calibrating:
    state = at_first_cross()
    for pixel, x, y in CROWDED:
        state = placed(state, pixel, x, y)
    return state


def straight(state: Calibrating) -> Calibrating:
    """The cross in hand placed exactly where it stands, on a table seen from above."""
    u, v = (int(value) for value in state.cross.pixel)
    x, y = Fraction(u - 200, 20), Fraction(1000 - v, 20)
    return placed(state, (u, v), str(float(x)), str(float(y)))


def said(state: Calibrating) -> str:
    return " ".join(mark.text for mark in lit(state).marks if isinstance(mark, Text))


def test_four_marks_crowded_together_are_warned_of_and_the_advice_helps() -> None:
    state = crowded()
    worst = [state.findings.worst_in]
    assert worst[0] > 1 / 2
    assert "that is more than 1/16 in" in said(state)
    for _ in range(3):
        advice = state.findings.advice
        assert advice is not None
        state, _events = keys(state, "A")
        assert (state.step, state.cross.is_added) == (Step.POINTING, True)
        # The new cross is lit where the advice wants it.
        assert state.cross.pixel == pytest.approx(advice.pixel, abs=1)
        state = straight(state)
        # What was promised is kept, but for the half pixel that a cross is off the advised place.
        assert state.findings.worst_in == pytest.approx(advice.after_in, rel=0.1)
        worst.append(state.findings.worst_in)
    assert worst[-1] < worst[0] / 3


def test_the_advised_place_is_lit_at_the_review_and_nowhere_else() -> None:
    state = crowded()
    assert proposed(state) is not None
    squares = [mark for mark in lit(state).marks if isinstance(mark, Stroke) and mark.kind is Kind.GUIDE]
    assert len(squares) == 1
    assert proposed(keys(state, "A")[0]) is None


def test_a_check_mark_is_kept_out_of_the_fit_and_judged() -> None:
    state, _ = keys(reviewed(), "C")
    assert (state.step, state.cross.is_check, state.at) == (Step.POINTING, True, 4)
    state = straight(state)
    assert state.table == reviewed().table
    assert state.findings.check is not None
    assert state.findings.check.verdict is Verdict.AGREES
    _, events = keys(state, "S")
    assert events == [Save(state.table, state.checks)]  # type: ignore[arg-type]
    assert len(state.checks) == 1


def test_a_check_mark_an_inch_off_is_said_to_miss() -> None:
    state, _ = keys(reviewed(), "C")
    u, v = (int(value) for value in state.cross.pixel)
    state = placed(state, (u, v), str((u - 200) / 20 + 1), str((1000 - v) / 20))
    assert state.findings.check is not None
    assert state.findings.check.verdict is Verdict.MISSES
    assert "The light misses check mark 1 by" in said(state)


def test_check_marks_stand_at_the_middles_of_edges_one_after_the_other() -> None:
    state = reviewed()
    starts = []
    for _ in range(4):
        state, _events = keys(state, "C")
        starts.append(state.cross.pixel)
        state = straight(state)
    # The middle of each edge of the frame, 6 % of its depth from the border.
    assert sorted(starts) == [(64.5, 540.5), (960.5, 64.5), (960.5, 1015.5), (1855.5, 540.5)]


def test_marks_added_after_a_check_mark_stand_before_it() -> None:
    state = straight(keys(reviewed(), "C")[0])
    state = straight(keys(state, "A")[0])
    assert [cross.is_check for cross in state.crosses] == [False] * 5 + [True]
    assert len(state.marks) == 5


def test_a_mark_becomes_a_check_mark_and_back_with_one_key() -> None:
    state = straight(keys(reviewed(), "A")[0])
    turned, _ = keys(state, "X")
    assert turned.crosses[turned.at].is_check
    assert (len(turned.marks), len(turned.checks)) == (4, 1)
    assert turned.table == reviewed().table
    back, _ = keys(turned, "X")
    assert back.marks == state.marks


def test_four_marks_stay_in_the_fit() -> None:
    state, _ = keys(reviewed(), "X")
    assert len(state.marks) == 4
    assert "Four marks are needed" in said(state)


def with_five() -> Calibrating:
    state = straight(keys(reviewed(), "A")[0])
    return straight(keys(state, "A")[0])


def test_marks_that_disagree_a_little_are_to_be_measured_once_more() -> None:
    state = with_five()
    assert not state.findings.disagree
    assert "measure them once more" not in said(state)
    sixth, _ = keys(state, "A")
    u, v = (int(value) for value in sixth.cross.pixel)
    off = placed(sixth, (u, v), str((u - 200) / 20 + 0.2), str((1000 - v) / 20))
    assert off.findings.disagree
    assert "measure them once more" not in said(off), "the marks that it may be are named instead"
    unnamed = replace(off, findings=replace(off.findings, slip=None))
    assert "measure them once more" in said(unnamed)


def test_swapped_inches_are_named_and_put_right_with_one_key() -> None:
    state = with_five()
    was = state.crosses[1]
    assert was.typed == ("70", "0")
    state, _ = keys(state, "2", "Enter", "Backspace", "Backspace", "0", "Enter", "Backspace", *typed("70"), "Enter")
    assert state.findings.slip is not None
    assert state.findings.slip.marks == (1,)
    assert "swapped" in said(state)
    assert "Y: yes, put it right." in said(state)
    mended, _ = keys(state, "Y")
    assert mended.crosses[1] == was
    assert mended.table is not None
    assert mended.findings.slip is None


def test_a_digit_off_in_centimetres_is_found_among_the_figures_as_typed() -> None:
    # A map of 8 pixels a centimetre; the fourth mark was typed 12 cm along instead of 120.
    places = [(0, 0), (150, 0), (150, 100), (12, 100), (75, 0), (75, 100)]
    true = [(0, 0), (150, 0), (150, 100), (120, 100), (75, 0), (75, 100)]
    marks = [
        Mark((x / 2.54, y / 2.54), (200.0 + 8 * a, 1000.0 - 8 * b)) for (x, y), (a, b) in zip(places, true, strict=True)
    ]
    slip = slip_in(marks, *SIZE, Unit.CENTIMETRE)
    assert slip is not None
    assert (slip.marks, slip.typed) == ((3,), (("120", "100"),))
    assert "centimetres" in slip.said


def test_crossed_marks_are_put_in_order_with_one_key() -> None:
    state = at_first_cross()
    for pixel, x, y in (
        ((200, 1000), "0", "0"),
        ((1600, 1000), "70", "0"),
        ((200, 200), "70", "40"),
        ((1600, 200), "0", "40"),
    ):
        state = placed(state, pixel, x, y)
    assert state.table is None
    assert state.findings.offers
    assert "another order" in said(state)
    mended, _ = keys(state, "Y")
    assert mended.table is not None
    assert [cross.pixel for cross in mended.crosses] == [cross.pixel for cross in reviewed().crosses]


def test_a_dozen_marks_are_enough_and_nothing_more_is_proposed() -> None:
    state = reviewed()
    while len(state.crosses) < MOST:
        state = straight(keys(state, "A")[0])
    assert keys(state, "A") == (state, [])
    assert keys(state, "C") == (state, [])
    assert proposed(state) is None


def test_earlier_check_marks_come_again_as_check_marks() -> None:
    marks = [Mark((0, 0), (11.5, 12.5)), Mark((9, 0), (250.5, 12.5))]
    state = begin(*SIZE, Unit.INCH, marks, [Mark((4, 5), (99.5, 99.5))])
    assert [cross.is_check for cross in state.crosses] == [False] * 4 + [True]
    assert state.crosses[4].typed == ("4", "5")
