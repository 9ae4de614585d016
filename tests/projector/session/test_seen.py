"""Practice on the simulated table, as a newcomer would: clumsy marks, the warning, the advice, the better light."""

from __future__ import annotations

import re

import numpy as np
import pytest

from calibration.photographed import Photographed
from calibration.photographs.pattern import Pattern
from calibration.table import Table
from jobs.model.choices import Unit
from projector.demo.practice import FIRST_TAPES, TABLE_IN, practice
from projector.demo.tapes import TAPE, Tape, TapedTable
from projector.light.pattern import pattern_frame
from projector.scene.marks import Text
from projector.session import run
from projector.session.calibrating.mode import Calibration
from projector.session.calibrating.state import Step, begin
from projector.session.mode import Rim
from projector.session.run import Start, fitting, parsing
from projector.session.seen import Practising
from tests.projector.session.hands import ANY, ESCAPE, Hands, rested
from tests.projector.session.sessions import key

WINDOW = (900, 563)


def practising(unit: Unit = Unit.INCH) -> Practising:
    bench = practice()
    size = (bench.projector.width_px, bench.projector.height_px)
    calibration = Calibration(begin(*size, unit), fitting(*size), parsing(unit), lambda stored: None)
    seen = Practising(calibration, bench, unit, WINDOW)
    key(calibration, "Space")
    return seen


def click_at(host: Practising, place: tuple[float, float], off_px: int = 0) -> None:
    """A click in the window where a place of the table is seen, some pixels beside it."""
    outlook = host._outlook
    x = round((place[0] - outlook.left) * outlook.px_per_in - 0.5) + off_px
    y = round(outlook.height_px - (place[1] - outlook.near) * outlook.px_per_in - 0.5)
    host.mode.act(host.action_at((x, y)), 1.0)


def set_mark(host: Practising, tape: Tape, off_px: int = 0) -> None:
    """The cross in hand clicked onto a tape cross, and the figures on it typed."""
    click_at(host, tape.at, off_px)
    key(host.mode, "Enter", 1.0)
    for figure in re.findall(r"-?[\d.]+", tape.written):
        for letter in figure:
            key(host.mode, letter, 1.0)
        key(host.mode, "Enter", 1.0)


def test_a_newcomer_sees_the_warning_follows_the_advice_and_sees_it_improve() -> None:
    host = practising()
    for tape, off in zip(host.tapes[:4], (1, -1, 1, -1), strict=True):
        set_mark(host, tape, off)
    state = host.mode.state
    assert state.step is Step.REVIEW
    assert state.table is not None
    first, truly = state.findings.worst_in, host.practice.true_error_in(state.table)
    assert first > 1 / 4
    for _ in range(5):
        key(host.mode, "A", 1.0)
        set_mark(host, host.tapes[-1])
    state = host.mode.state
    assert state.table is not None
    # Five marks on top of four that a click set a window's pixel (1/9 in) off: better by more than half.
    assert state.findings.worst_in < first / 2
    # The truth, which only the simulation knows, improves as well, and keeps to what was said.
    assert host.practice.true_error_in(state.table) < truly
    assert host.practice.true_error_in(state.table) <= state.findings.worst_in
    clumsy = state.findings.worst_in
    for number in "1234":
        key(host.mode, number, 1.0)
        click_at(host, host.tapes[int(number) - 1].at)
        for _ in range(3):
            key(host.mode, "Enter", 1.0)
    state = host.mode.state
    assert state.step is Step.REVIEW
    assert state.findings.worst_in < clumsy


def test_a_tape_cross_is_stuck_on_the_table_where_a_mark_is_asked_for() -> None:
    host = practising()
    for tape in host.tapes[:4]:
        set_mark(host, tape)
    key(host.mode, "A", 1.0)
    assert len(host.tapes) == len(FIRST_TAPES) + 1
    x, y = host.tapes[-1].at
    assert 0 < x < TABLE_IN[0]
    assert 0 < y < TABLE_IN[1]
    asked = host.practice.place_of(host.mode.state.cross.pixel)
    # On a step of 1/4 in, so at most 1/8 in off each way.
    assert np.abs(np.subtract(asked, (x, y))).max() <= 1 / 8 + 1e-9


def test_all_light_of_the_practice_falls_on_the_table() -> None:
    projector = practice().projector
    corners = projector.to_table([(0, 0), (1920, 0), (1920, 1080), (0, 1080)])
    assert (corners > 0).all()
    assert (corners < TABLE_IN).all()


def test_the_glass_shows_the_tape_from_close_by_and_takes_clicks() -> None:
    host = practising()
    click_at(host, FIRST_TAPES[0])
    pixels = np.zeros(WINDOW[::-1], np.uint32)
    host.paint(pixels)
    glass = host._magnified()
    assert glass is not None
    tape, view = glass
    left, upper = host._corner(tape)
    middle = view.outlook.width_px // 2
    # Half an inch to the right in the glass is half an inch on the table.
    before = host.practice.place_of(host.mode.state.cross.pixel)
    host.mode.act(host.action_at((left + middle + round(0.5 * view.outlook.px_per_in), upper + middle)), 1.0)
    after = host.practice.place_of(host.mode.state.cross.pixel)
    assert after[0] - tape.at[0] == pytest.approx(0.5, abs=1 / 16)
    assert abs(before[0] - tape.at[0]) < 1 / 8


def test_figures_are_written_in_the_unit_of_the_person() -> None:
    assert practising().tapes[1].written == "32, 0 in"
    assert practising(Unit.CENTIMETRE).tapes[1].written == "81.28, 0 cm"


def test_tape_covers_the_table_in_a_cross_with_a_fine_line() -> None:
    table = TapedTable((Tape.stuck((10.0, 10.0), "1, 2 in"),))
    places = np.array([(11.0, 10.2), (10.2, 11.0), (11.0, 11.0), (10.0, 10.0), (10.0, 7.0)])
    colours, covered = table.colour_at(places)
    assert covered.tolist() == [True, True, False, True, True]
    assert (colours[3] < 0.1).all()
    assert colours[0] == pytest.approx(TapedTable((Tape.stuck((0, 0), TAPE),)).colour_at(np.array([(1, 0.2)]))[0][0])


def test_the_first_page_tells_that_the_crosses_are_stuck_already() -> None:
    bench = practice()
    size = (bench.projector.width_px, bench.projector.height_px)
    calibration = Calibration(begin(*size, Unit.INCH), fitting(*size), parsing(Unit.INCH), lambda stored: None)
    Practising(calibration, bench, Unit.INCH, WINDOW)
    words = " ".join(mark.text for mark in calibration.lit().scene.marks if isinstance(mark, Text))
    assert "This is practice on a simulated table." in words
    assert "Never look into the lens." in words


def test_photographs_are_practised_on_the_light_as_it_is() -> None:
    bench, thrown = practice(), []
    size = (bench.projector.width_px, bench.projector.height_px)
    begun = Start(by_photographs=True)
    calibration = Calibration(begun.state(*size), fitting(*size), parsing(Unit.INCH), lambda stored: None)
    seen = Practising(calibration, bench, Unit.INCH, WINDOW, thrown.append)
    assert "its page takes the photographs" in calibration.state.remark
    key(calibration, "Space")
    seen.paint(np.zeros(WINDOW[::-1], np.uint32))
    assert (thrown[-1] == pattern_frame(Pattern(*size))).all()


def test_a_calibration_from_photographs_is_judged_from_the_left_cross() -> None:
    bench = practice()
    size = (bench.projector.width_px, bench.projector.height_px)
    to_frame = np.linalg.inv(np.array([[1, 0, -bench.crosses_in[0][0]], [0, 1, -bench.crosses_in[0][1]], [0, 0, 1.0]]))
    (_, rise), (_, up) = bench.crosses_in
    assert up - rise != 0
    turned = np.arctan2(up - rise, bench.tape_in)
    matrix = bench.projector.matrix @ to_frame @ turn(turned)
    table = Table(*size, matrix / matrix[2, 2], (), photographed=Photographed(5, 0.3, np.eye(12) * 1e-10))
    assert bench.true_error_in(table) < 1e-3


def turn(angle: float) -> np.ndarray:
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array([[cos, -sin, 0], [sin, cos, 0], [0, 0, 1.0]])


def test_practice_runs_in_a_window() -> None:
    hands = Hands(ANY, ESCAPE)
    assert run.run_practice(lambda stored: None, size_px=WINDOW, rim=Rim(on_frame=hands, clock=rested())) is None
    hands.done()
    assert hands.frames[0].shape == WINDOW[::-1]
    assert not np.array_equal(hands.frames[0], hands.frames[1])
