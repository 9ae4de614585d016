"""What is offered page by page is enough to work by: a job is cut, a table calibrated and checked by offers alone."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from calibration.marks import TapeCheck, TapeClass
from jobs.model.choices import Unit
from projector.files.table_file import Stored
from projector.session.actions import Action, Pointed, parse
from projector.session.calibrating.mode import Calibration
from projector.session.calibrating.state import Step, begin
from projector.session.calibrating.tape_check import begin_tape_check
from projector.session.calibrating.tape_check_mode import CheckByTape
from projector.session.cutting.journal import Done, Event, Undone, WayConfirmed
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import OFFERS, Page
from projector.session.cutting.startup_check import startup_check_of
from projector.session.mode import Mode
from projector.session.run import fitting, parsing
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import TABLE, cutting_of
from tests.projector.session.tables import table_of

LIGHT = (1280, 720)


def take(mode: Mode[Any, Any], says: str, quiet_s: float = 2.0) -> bool:
    """Take what is offered in these words, as another process does: by the name that is published."""
    published = {one["says"]: one for one in mode.publish()["offers"]}
    assert says in published, f"nothing says {says}: {list(published)}"
    assert published[says]["keys"], "every offer has a key"
    return mode.act(parse(published[says]["action"]), quiet_s)


def cutting(checked: bool = False) -> tuple[Cutting, list[Event]]:
    kept: list[Event] = []
    check = startup_check_of(TABLE) if checked else None
    return cutting_of(plan_of(2, 2), TABLE, kept.append, check), kept


def test_a_job_is_cut_and_a_tick_taken_back() -> None:
    mode, kept = cutting()
    for says in ("read: go on", "next", "next", "yes: tick it", "yes, I see it", "yes, I see it", "next", "done"):
        assert take(mode, says)
    for says in ("undo", "done", "leave", "leave"):
        assert take(mode, says)
    assert mode.finished
    assert kept == [Done("cut-1"), WayConfirmed("cut-2"), Done("cut-2"), Undone("cut-2"), Done("cut-2")]


def test_the_same_offer_taken_twice_in_haste_ticks_nothing() -> None:
    mode, kept = cutting()
    for says in ("read: go on", "next", "next"):
        take(mode, says)
    take(mode, "yes: tick it", quiet_s=0.2)
    assert (mode.state.page, kept) == (Page.IS_IT_CUT, [])


def test_the_light_is_darkened_and_moved() -> None:
    mode, _ = cutting()
    take(mode, "read: go on")
    take(mode, "dark")
    assert mode.state.dark
    assert [says for says, _ in mode.offers] == ["light again"]
    take(mode, "light again")
    for says in ("left", "away", "away"):
        take(mode, says)
    assert (mode.state.light.motion.dx, mode.state.light.motion.dy) == (Fraction(-1, 16), Fraction(1, 8))


def test_the_check_whether_anything_has_moved_is_answered() -> None:
    mode, _ = cutting(checked=True)
    for says in ("read: go on", "they miss", "left", "it meets: go on", "it meets: go on", "go on so"):
        assert take(mode, says)
    assert mode.state.page is Page.STOP


@pytest.mark.parametrize("page", Page)
def test_every_page_has_a_way_on(page: Page) -> None:
    asked = [action for _, action in OFFERS[page]]
    assert len(set(asked)) == len(asked)
    assert asked or page is Page.LEFT
    # What goes on from the pattern is a photograph: no button is the large one.
    usual = [Action.DARK] if page is Page.PATTERN else [Action.LEAVE]
    assert asked[:1] in ([Action.NEXT_STOP], [Action.CUT_DONE], usual, [])


def test_a_table_is_calibrated() -> None:
    saved: list[Stored] = []
    mode = Calibration(begin(*LIGHT, Unit.INCH), fitting(*LIGHT), parsing(Unit.INCH), saved.append)
    take(mode, "read: go on")
    for pixel, x, y in (
        ((128, 648), "0", "0"),
        ((1152, 648), "50", "0"),
        ((1152, 72), "50", "28"),
        ((128, 72), "0", "28"),
    ):
        assert mode.act(Pointed(pixel), 2.0)
        take(mode, "it meets")
        for figure in (x, y):
            for letter in figure:
                take(mode, letter)
            take(mode, "Enter")
    assert mode.state.step is Step.REVIEW
    for says in ("add a mark", "dark", "light again", "leave", "go back", "do without"):
        assert take(mode, says)
    assert not saved
    take(mode, "save")
    assert mode.finished
    # The four pixels are inches 0 to 50 by 0 to 28 at 20.48 and 20.57 pixels an inch.
    assert saved[0].table.to_frame([(25.0, 14.0)])[0].tolist() == pytest.approx([640, 360])


def test_a_table_is_checked_with_a_tape() -> None:
    kept: list[TapeCheck] = []
    state = begin_tape_check(table_of(*LIGHT), Unit.INCH, TapeClass.II, 1 / 16, "2026-11-25")
    mode = CheckByTape(state, parsing(Unit.INCH), kept.append)
    for says in ("read: go on", "dark", "light again", "7", "0", "4", "rub out", "Enter", "length before", "Enter"):
        assert take(mode, says)
    while "keep it" not in dict(mode.offers):
        take(mode, "Enter")
    for says in ("length after", "this one again", "Enter"):
        take(mode, says)
    while "keep it" not in dict(mode.offers):
        take(mode, "Enter")
    for says in ("leave", "go back", "keep it"):
        take(mode, says)
    assert [float(reading.tape_in) for reading in kept[0].readings] == [70.0]
    assert (mode.finished, mode.offers) == (True, ())
