"""What comes between while at work: the quick check stands before the next tick, and why is said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from projector.session.actions import Action
from projector.session.cutting.journal import Done, Event
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import MEASURE
from projector.session.cutting.startup_check import startup_check_of
from projector.session.windows.watch import back, slept
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import cutting_of
from tests.projector.session.tables import table_of

WHY = back("lamp")


def checked_session(checked: bool = True) -> tuple[Cutting, list[Event]]:
    table, kept = table_of(960, 540), list[Event]()
    meeting = startup_check_of(table) if checked else None
    return cutting_of(plan_of(2, 2), table, kept.append, meeting), kept


def pressed(host: Cutting, *actions: Action) -> None:
    for action in actions:
        host.act(action, 2.0)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(45.0, "45 seconds"), (119.0, "2 minutes"), (600.0, "10 minutes"), (7200.0, "2 hours"), (40_000.0, "11 hours")],
)
def test_a_sleep_is_told_in_round_figures(seconds: float, words: str) -> None:
    assert slept(seconds).startswith(f"The computer stood still for {words}.")


@pytest.mark.parametrize("forward", [0, 1, 2])
def test_no_cut_is_ticked_before_the_two_marks_were_met_again(forward: int) -> None:
    host, kept = checked_session()
    # Cautions, the first check, then on: at the first stop, at the second, at the question.
    pressed(host, Action.NEXT_STOP, Action.NEXT_STOP, *[Action.NEXT_STOP] * forward)
    at = host.state.at
    assert host.interrupted(WHY)
    assert host.state.page is Page.STARTUP_CHECK
    assert host.state.check is not None
    assert host.state.check.notices == (WHY,)
    pressed(host, Action.UNDO, Action.NEXT_CUT, Action.LAY)
    assert host.state.page is Page.STARTUP_CHECK
    pressed(host, Action.NEXT_STOP)
    assert (host.state.page, host.state.at, kept) == (Page.STOP, at, [])
    pressed(host, *[Action.NEXT_STOP] * (2 - at + 1))
    assert kept == [Done("cut-1")]


def test_cautions_not_yet_read_come_first_and_the_check_after_them() -> None:
    host, _ = checked_session()
    host.interrupted(WHY)
    assert host.state.page is Page.CAUTIONS
    pressed(host, Action.NEXT_STOP)
    assert host.state.page is Page.STARTUP_CHECK
    assert host.state.check is not None
    assert host.state.check.notices == (WHY,)


def test_motif_points_in_hand_are_let_go() -> None:
    host, _ = checked_session()
    pressed(host, Action.NEXT_STOP, Action.NEXT_STOP, Action.LAY, Action.CUT_DONE)
    assert host.state.marking is not None
    host.interrupted(WHY)
    assert host.state.marking is None
    pressed(host, Action.NEXT_STOP)
    assert host.state.page is Page.STOP


def test_where_no_marks_can_be_met_it_is_said_in_words() -> None:
    host, _ = checked_session(checked=False)
    pressed(host, Action.NEXT_STOP)
    assert host.interrupted(WHY)
    assert host.state.page is Page.TROUBLE
    assert host.state.trouble == f"{WHY}\n{MEASURE}"
    pressed(host, Action.NEXT_STOP)
    assert host.state.page is Page.STOP


@pytest.mark.parametrize(("checked", "page"), [(True, Page.STARTUP_CHECK), (False, Page.TROUBLE)])
def test_the_dark_stays_dark_until_a_key(checked: bool, page: Page) -> None:
    host, _ = checked_session(checked)
    pressed(host, Action.NEXT_STOP, *[Action.NEXT_STOP] * checked, Action.DARK)
    host.interrupted(WHY)
    assert host.state.dark
    pressed(host, Action.NEXT_STOP)
    assert (host.state.dark, host.state.page) == (False, page)


def test_where_the_cloth_was_laid_one_point_is_asked_for_again_after_the_marks() -> None:
    host, _ = checked_session()
    pressed(host, Action.NEXT_STOP, Action.NEXT_STOP, Action.LAY)
    while host.state.page is not Page.STOP:
        pressed(host, Action.CUT_DONE)
    assert host.state.fit is not None
    host.interrupted(WHY)
    pressed(host, Action.NEXT_STOP)
    assert host.state.page is Page.MARKING
    assert host.state.marking is not None
    assert host.state.marking.known


def test_a_session_that_was_left_is_left_alone() -> None:
    host, _ = checked_session()
    host.state = replace(host.state, page=Page.LEFT)
    assert not host.interrupted(WHY)
