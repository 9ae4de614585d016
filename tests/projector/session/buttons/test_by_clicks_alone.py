"""A table calibrated and a job cut with nothing but a mouse."""

from __future__ import annotations

import re
from fractions import Fraction

import numpy as np

from jobs.model.choices import Unit
from projector.files.table_file import Stored
from projector.session.actions import Action
from projector.session.buttons.calibrating import calibrating_buttons
from projector.session.buttons.cutting import cutting_buttons
from projector.session.buttons.under import WithButtons
from projector.session.calibrating.host import Calibration
from projector.session.calibrating.practice import Practising
from projector.session.cutting.demo import Demo
from projector.session.cutting.host import Cutting
from projector.session.cutting.recording import Recorded
from projector.session.keys import DEFAULT_KEYS
from projector.session.lighting.lighting import bench_of
from projector.session.run_calibrating import fitting, parsing
from projector.session.state.events import WayConfirmed
from projector.session.state.meeting import meeting_of
from projector.session.state.pages import Page
from projector.session.state.state import Done, Undone
from projector.simulated.practice import practice
from tests.projector.session.buttons.clicks import Mouse
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of

WINDOW, STRIP = (900, 563), 48


def cutting_by_mouse(cuts: int = 2, checked_first: bool = False) -> tuple[Cutting, Mouse, list[Recorded]]:
    table, kept = table_of(960, 540), list[Recorded]()
    meeting = meeting_of(table) if checked_first else None
    cutting = Cutting(bench_of(plan_of(cuts, 2), table), table, kept.append, meeting=meeting)
    demo = Demo(cutting, lambda stop, size_px: lambda frame: np.zeros((*size_px[::-1], 3), np.uint8), WINDOW)

    def buttons() -> tuple:
        return cutting_buttons(cutting.session, DEFAULT_KEYS)

    return cutting, Mouse(WithButtons(demo, buttons, STRIP), buttons), kept


def test_a_job_is_cut_by_clicks_alone_and_a_tick_taken_back() -> None:
    cutting, mouse, kept = cutting_by_mouse()
    for says in ("read: go on", "next", "next", "yes: tick it", "yes, I see it", "yes, I see it", "next", "done"):
        assert mouse.on(says)
    for says in ("undo", "done", "leave", "leave"):
        assert mouse.on(says)
    assert cutting.finished
    assert kept == [Done("cut-1"), WayConfirmed("cut-2"), Done("cut-2"), Undone("cut-2"), Done("cut-2")]


def test_two_quick_clicks_on_the_same_place_tick_nothing() -> None:
    cutting, mouse, kept = cutting_by_mouse()
    for says in ("read: go on", "next", "next"):
        mouse.on(says)
    assert cutting.session.page is Page.IS_IT_CUT
    mouse.on("yes: tick it", quiet_s=0.2)
    assert cutting.session.page is Page.IS_IT_CUT
    assert kept == []


def test_the_light_is_darkened_and_moved_by_clicks() -> None:
    cutting, mouse, _ = cutting_by_mouse()
    mouse.on("read: go on")
    mouse.on("dark")
    assert cutting.session.dark
    assert [button.says for button in mouse.buttons()] == ["light again"]
    mouse.on("light again")
    for says in ("left", "away", "away"):
        mouse.on(says)
    assert (cutting.session.motion.dx, cutting.session.motion.dy) == (Fraction(-1, 16), Fraction(1, 8))


def test_the_check_whether_anything_has_moved_is_answered_by_clicks() -> None:
    cutting, mouse, _ = cutting_by_mouse(checked_first=True)
    for says in ("read: go on", "they miss", "left", "it meets: go on", "it meets: go on", "go on so"):
        assert mouse.on(says)
    assert cutting.session.page is Page.STOP


def test_an_action_without_a_key_has_no_button() -> None:
    cutting, mouse, _ = cutting_by_mouse()
    mouse.on("read: go on")
    keys = {key: action for key, action in DEFAULT_KEYS.items() if action is not Action.COLOURS}
    says = [button.says for button in cutting_buttons(cutting.session, keys)]
    assert "colours" not in says
    assert "next" in says


def test_a_table_is_calibrated_by_clicks_alone() -> None:
    bench, saved = practice(), list[Stored]()
    size = (bench.rig.width_px, bench.rig.height_px)
    calibration = Calibration(size, Unit.INCH, fitting(*size), parsing(Unit.INCH), saved.append)
    host = Practising(calibration, bench, Unit.INCH, WINDOW)

    def buttons() -> tuple:
        return calibrating_buttons(calibration.state)

    mouse = Mouse(WithButtons(host, buttons, STRIP), buttons)
    mouse.on("read: go on")
    for tape in host.tapes[:4]:
        outlook = host._outlook
        x, y = ((at - edge) * outlook.px_per_in for at, edge in zip(tape.at, (outlook.left, outlook.near), strict=True))
        mouse.host.click((round(x - 0.5), round(outlook.height_px - y - 0.5)), 2.0)
        mouse.on("it meets")
        for figure in re.findall(r"-?[\d.]+", tape.written):
            for letter in figure:
                mouse.on(letter)
            mouse.on("Enter")
    mouse.on("add a mark")
    for says in ("dark", "light again", "leave", "go back", "do without"):
        assert mouse.on(says)
    assert not saved
    mouse.on("save")
    assert calibration.finished
    assert len(saved) == 1
    # Clicks fall within a window's pixel, some 1/8 in, of the tape; four such marks put the light within an inch.
    assert bench.true_error_in(saved[0].table) < 1.0


def test_the_picture_above_and_the_strip_below_fill_the_window() -> None:
    _, mouse, _ = cutting_by_mouse()
    pixels = np.full(mouse.host.size_px[::-1], 0xFF00FF, np.uint32)
    mouse.host.paint(pixels)
    assert not (pixels == 0xFF00FF).any()
    assert len(np.unique(pixels[WINDOW[1] :])) > 20
