"""Has anything moved? Two marks lit, the light moved onto them, the correction recorded and used."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.height import LensPosition
from calibration.marks import Mark
from calibration.moved import Mend
from calibration.photographed import Photographed
from calibration.table import Table, fit_table
from jobs.journal.file import JournalFile
from jobs.journal.history import progress
from projector.files.table_file import Stored
from projector.scene.boxes import Box
from projector.scene.lettering import box_of
from projector.scene.marks import Kind, Text
from projector.session import run
from projector.session.actions import NUDGES_64THS, Action
from projector.session.cutting.journal import LIGHT_MOVED, Corrected, Event, not_kept, recording_in
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import press
from projector.session.cutting.startup_check import FARTHEST_64THS, PAGES, StartupCheck, startup_check_of
from projector.session.cutting.state import Session, setup_of
from projector.session.mode import Rim
from tests.projector.session.hands import DUMMY, ESCAPE, PAGE_DOWN, Hands, rested
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, begun, cutting_of, key, lit
from tests.projector.session.tables import PLACES, table_of

TABLE = table_of(1920, 1080)
GRID = [(float(x), float(y)) for x in (5, 30, 55) for y in (5, 25, 45)]


def meeting() -> StartupCheck:
    found = startup_check_of(TABLE)
    assert found is not None
    return found


def asked() -> Session:
    return press(begun(setup_of(plan_of(), TABLE), check=meeting()), Action.ANY_OTHER)[0]


def pushed(shift: tuple[float, float], turn_deg: float) -> Table:
    """The truth once the table was pushed: places now, to where the old calibration believes them to be."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return TABLE.through(np.array([[cos, -sin, shift[0]], [sin, cos, shift[1]], [0, 0, 1.0]]))


def met(session: Session, truth: Table) -> Session:
    """Arrow keys until the cross in hand meets its mark, to the nearest 1/64 in."""
    assert session.check is not None
    mark = session.check.marks[session.check.at]
    wanted = np.array(TABLE.to_table(truth.to_frame([mark.table]))[0])
    hairs = {Action.LIGHT_HAIR_RIGHT, Action.LIGHT_HAIR_LEFT, Action.LIGHT_HAIR_AWAY, Action.LIGHT_HAIR_NEARER}
    while True:
        assert session.check is not None
        right, away = (round(float(v) * 64) for v in wanted - session.check.lit_at(session.check.at))
        wish = (int(np.sign(right)), 0) if right else (0, int(np.sign(away)))
        if not right and not away:
            return session
        action = next(action for action in hairs if NUDGES_64THS[action] == wish)
        session = after(session, action)[0]


def test_the_check_comes_after_the_cautions_and_a_remote_goes_on_with_one_press() -> None:
    session = asked()
    assert session.page is Page.STARTUP_CHECK
    onward, events = after(session, Action.NEXT_STOP)
    assert (onward.page, events) == (Page.STOP, [])
    # It does not come again, whatever page is opened and closed.
    assert after(onward, Action.HELP, Action.ANY_OTHER)[0].page is Page.STOP


def test_without_a_calibration_to_check_work_begins_at_once() -> None:
    assert press(begun(plan_of()), Action.ANY_OTHER)[0].page is Page.STOP


def test_the_two_marks_farthest_apart_are_lit() -> None:
    assert {PLACES[number - 1] for number in meeting().numbers} in ({PLACES[0], PLACES[2]}, {PLACES[1], PLACES[3]})


def test_marks_that_cannot_be_lit_are_not_asked_for() -> None:
    assert startup_check_of(replace(TABLE, marks=())) is None


@pytest.mark.parametrize("action", [Action.CUT_DONE, Action.LIGHT_LEFT])
def test_enter_or_an_arrow_says_that_they_miss(action: Action) -> None:
    assert after(asked(), action)[0].page is Page.MOVING


def test_keys_without_a_meaning_here_change_nothing() -> None:
    for action in (Action.ANY_OTHER, Action.UNDO, Action.COLOURS, Action.ROWS, Action.PREVIOUS_STOP):
        session = asked()
        assert after(session, action) == (session, [])


@pytest.mark.parametrize(("shift", "turn_deg"), [((0.25, -0.5), 0.0), ((0.125, 0.25), 0.3), ((-1.0, 0.5), -0.4)])
def test_a_shift_and_a_turn_are_found_by_two_marks_and_mended(shift: tuple[float, float], turn_deg: float) -> None:
    truth = pushed(shift, turn_deg)
    session = met(after(asked(), Action.CUT_DONE)[0], truth)
    session = met(after(session, Action.CUT_DONE)[0], truth)
    session, _ = after(session, Action.CUT_DONE)
    assert session.page is Page.MOVED
    session, events = after(session, Action.NEXT_STOP)
    assert session.page is Page.STOP
    (event,) = events
    assert isinstance(event, Corrected)
    mended = event.move.mended(TABLE)
    # Each mark was met to 1/128 in each way; between and around them a turn is no worse than twice that.
    off = truth.to_table(mended.to_frame(GRID)) - GRID
    assert np.abs(off).max() < 2 * math.sqrt(2) / 128


def test_one_mark_alone_mends_a_shift_and_says_that_a_turn_stays_unseen() -> None:
    session = met(after(asked(), Action.CUT_DONE)[0], pushed((0.25, 0.0), 0.0))
    session, _ = after(session, Action.NEXT_CUT)
    assert session.check is not None
    assert session.check.move is not None
    assert session.check.move.mend is Mend.SHIFT
    words = " ".join(
        mark.text for mark in lit(replace(session, setup=setup_of(plan_of(), TABLE))).marks if isinstance(mark, Text)
    )
    assert "a turn would stay unseen" in words


def test_what_no_shift_and_turn_mends_asks_for_a_new_calibration_and_changes_nothing() -> None:
    session, _ = after(asked(), Action.CUT_DONE, *[Action.LIGHT_FAR_RIGHT] * 2, Action.CUT_DONE)
    session, _ = after(session, *[Action.LIGHT_FAR_LEFT] * 4, Action.CUT_DONE)
    assert session.check is not None
    assert session.check.move is not None
    assert session.check.move.mend is Mend.REDO
    words = " ".join(
        mark.text for mark in lit(replace(session, setup=setup_of(plan_of(), TABLE))).marks if isinstance(mark, Text)
    )
    assert "Calibrate anew" in words
    assert after(session, Action.NEXT_STOP)[1] == []


def test_marks_that_are_met_after_all_correct_nothing() -> None:
    session, events = after(asked(), Action.CUT_DONE, Action.CUT_DONE, Action.CUT_DONE, Action.NEXT_STOP)
    assert (session.page, events) == (Page.STOP, [])


def test_the_correction_can_be_declined() -> None:
    session, events = after(
        asked(), Action.LIGHT_RIGHT, Action.LIGHT_RIGHT, Action.CUT_DONE, Action.CUT_DONE, Action.LIGHT_BACK
    )
    assert (session.page, events) == (Page.STOP, [])


def test_the_light_is_not_moved_out_of_reach() -> None:
    session, _ = after(asked(), Action.CUT_DONE, *[Action.LIGHT_FAR_LEFT] * 100)
    assert session.check is not None
    assert max(abs(value) for value in session.check.offsets_64ths[0]) <= FARTHEST_64THS
    assert session.check.move is not None


def test_leaving_is_asked_for_and_going_back_comes_back_to_the_check() -> None:
    session, _ = after(asked(), Action.LEAVE)
    assert session.page is Page.LEAVE
    assert after(session, Action.ANY_OTHER)[0].page is Page.STARTUP_CHECK


@given(st.lists(st.sampled_from(list(Action)), max_size=25))
@settings(max_examples=60)
def test_whatever_is_pressed_nothing_is_ticked_by_the_check_and_words_stay_in_the_light(actions: list[Action]) -> None:
    session, bench = asked(), setup_of(plan_of(), TABLE)
    for action in actions:
        before = session.page
        session, events = after(session, action)
        if before in PAGES:
            assert all(isinstance(event, Corrected) for event in events)
    if session.page in PAGES and not session.dark:
        area = Box(*(f([p[i] for p in bench.area]) for f, i in ((min, 0), (min, 1), (max, 0), (max, 1))))
        said = [
            mark
            for mark in lit(replace(session, setup=bench)).marks
            if isinstance(mark, Text) and not mark.text.isdigit()
        ]
        assert said
        assert all(area.grown(1e-6).holds(box_of(text)) for text in said)


def test_the_correction_is_recorded_before_it_is_used_and_moves_every_line(tmp_path: Path) -> None:
    plan = plan_of()
    with JournalFile(tmp_path / "room.yaml.cuts") as journal:
        host = cutting_of(plan, TABLE, recording_in(journal, plan), meeting())
        for name in ("Space", "Shift+Right", "Enter", "Enter", "PageDown"):
            key(host, name, 9.0)
        (event,) = journal.events
    assert event.event == LIGHT_MOVED
    assert event.more["shift_in"] == pytest.approx([0.5, 0.0], abs=1e-9)
    assert progress([event]) == ()
    json.dumps(dict(event.more))
    assert host.state.setup.table.to_frame([(10.0, 10.0)])[0] == pytest.approx(
        TABLE.to_frame([(10.5, 10.0)])[0], abs=1e-6
    )


def test_a_correction_that_cannot_be_recorded_is_not_used() -> None:
    def full(event: Event) -> None:
        raise OSError(28, "No space left on device")

    host = cutting_of(plan_of(), TABLE, full, meeting())
    for name in ("Space", "Shift+Right", "Enter", "Enter", "PageDown"):
        key(host, name, 9.0)
    assert host.state.page is Page.TROUBLE
    assert host.state.setup.table == TABLE
    key(host, "Space", 9.0)
    # Back at the question, with nothing lost.
    assert host.state.page is Page.STARTUP_CHECK


def test_the_correction_holds_on_raised_cloth_too() -> None:
    plan = plan_of()
    thick = plan.with_job(replace(plan.job, cloth=replace(plan.job.cloth, thickness=plan.job.cloth.selvedge / 4)))
    bare = replace(TABLE, lens_position=LensPosition((30.0, 20.0), 96.0))
    found = startup_check_of(bare)
    host = cutting_of(thick, bare.on_surface(0.25), not_kept, found)
    for name in ("Space", "Shift+Up", "Enter", "Enter", "PageDown"):
        key(host, name, 9.0)
    expected = bare.through(np.array([[1, 0, 0], [0, 1, 0.5], [0, 0, 1.0]])).on_surface(0.25)
    assert host.state.setup.table.to_frame(GRID) == pytest.approx(expected.to_frame(GRID), abs=1e-6)


def test_crosses_are_lit_on_the_bare_table_not_on_the_cloth() -> None:
    bare = replace(TABLE, lens_position=LensPosition((30.0, 20.0), 96.0))
    raised = bare.on_surface(4.0)
    host = cutting_of(plan_of(), raised, not_kept, startup_check_of(bare))
    key(host, "Space", 9.0)
    frame = np.zeros((1080, 1920), np.uint32)
    host.paint(frame)
    for u, v in bare.to_frame([mark.table for mark in meeting().marks]).tolist():
        assert frame[int(v), int(u)] & 0xFF > 128
    assert host.lit().scene.of(Kind.TARGET)


def test_a_session_with_its_calibration_begins_with_the_check_on_a_screen() -> None:
    table = replace(table_of(*DUMMY), date="2020-02-02")
    hands = Hands(PAGE_DOWN, PAGE_DOWN, ESCAPE, ESCAPE)
    session = run.run_cutting(
        setup_of(plan_of(), table),
        not_kept,
        stored=Stored(table, (), "another"),
        rim=Rim(on_frame=hands, clock=rested()),
    )
    hands.done()
    assert session.check is not None
    assert session.check.over
    assert any("2020-02-02" in notice for notice in session.check.notices)
    assert any("another" in notice for notice in session.check.notices)


def test_a_table_from_photographs_is_checked_by_its_two_crosses() -> None:
    # The first two marks are the crosses that the tape was laid between; farther corners of the light have no mark.
    marks = tuple(
        Mark(at, (100 + 10 * at[0], 900 - 10 * at[1])) for at in ((0, 0), (60, 0), (-5, -5), (80, 60), (-5, 60))
    )
    table = fit_table([Mark(tuple(map(float, one.table)), one.pixel) for one in marks], 1920, 1080)
    assert startup_check_of(table).numbers != (1, 2)
    made = replace(table, photographed=Photographed(5, 0.3, np.eye(12) * 1e-10))
    assert startup_check_of(made).numbers == (1, 2)
