"""What comes between while at work: the quick check stands before the next tick, and why is said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from projector.session.actions import Action
from projector.session.cutting.host import Cutting
from projector.session.cutting.recording import Recorded
from projector.session.lighting.lighting import bench_of
from projector.session.pressing.interruptions import CHECK, back, slept
from projector.session.state.meeting import meeting_of
from projector.session.state.pages import Page
from projector.session.state.state import Done
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of

WHY = back("lamp")


def cutting(checked: bool = True) -> tuple[Cutting, list[Recorded]]:
    table, kept = table_of(960, 540), list[Recorded]()
    meeting = meeting_of(table) if checked else None
    return Cutting(bench_of(plan_of(2, 2), table), table, kept.append, meeting=meeting), kept


def pressed(host: Cutting, *actions: Action) -> None:
    for action in actions:
        host.press(action, 2.0)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(45.0, "45 seconds"), (119.0, "2 minutes"), (600.0, "10 minutes"), (7200.0, "2 hours"), (40_000.0, "11 hours")],
)
def test_a_sleep_is_told_in_round_figures(seconds: float, words: str) -> None:
    assert slept(seconds).startswith(f"The computer stood still for {words}.")


@pytest.mark.parametrize("forward", [0, 1, 2])
def test_no_cut_is_ticked_before_the_two_marks_were_met_again(forward: int) -> None:
    host, kept = cutting()
    # Cautions, the first check, then on: at the first stop, at the second, at the question.
    pressed(host, Action.NEXT_STOP, Action.NEXT_STOP, *[Action.NEXT_STOP] * forward)
    at = host.session.at
    assert host.interrupted(WHY)
    assert host.session.page is Page.MEETING
    assert host.session.meeting is not None
    assert host.session.meeting.notices == (WHY,)
    pressed(host, Action.UNDO, Action.NEXT_CUT, Action.LAY)
    assert host.session.page is Page.MEETING
    pressed(host, Action.NEXT_STOP)
    assert (host.session.page, host.session.at, kept) == (Page.STOP, at, [])
    pressed(host, *[Action.NEXT_STOP] * (2 - at + 1))
    assert kept == [Done("cut-1")]


def test_cautions_not_yet_read_come_first_and_the_check_after_them() -> None:
    host, _ = cutting()
    host.interrupted(WHY)
    assert host.session.page is Page.CAUTIONS
    pressed(host, Action.NEXT_STOP)
    assert host.session.page is Page.MEETING
    assert host.session.meeting is not None
    assert host.session.meeting.notices == (WHY,)


def test_motif_points_in_hand_are_let_go() -> None:
    host, _ = cutting()
    pressed(host, Action.NEXT_STOP, Action.NEXT_STOP, Action.LAY, Action.CUT_DONE)
    assert host.session.marking is not None
    host.interrupted(WHY)
    assert host.session.marking is None
    pressed(host, Action.NEXT_STOP)
    assert host.session.page is Page.STOP


def test_where_no_marks_can_be_met_it_is_said_in_words() -> None:
    host, _ = cutting(checked=False)
    pressed(host, Action.NEXT_STOP)
    assert host.interrupted(WHY)
    assert host.session.page is Page.TROUBLE
    assert host.session.trouble == f"{WHY}\n{CHECK}"
    pressed(host, Action.NEXT_STOP)
    assert host.session.page is Page.STOP


@pytest.mark.parametrize(("checked", "page"), [(True, Page.MEETING), (False, Page.TROUBLE)])
def test_the_dark_stays_dark_until_a_key(checked: bool, page: Page) -> None:
    host, _ = cutting(checked)
    pressed(host, Action.NEXT_STOP, *[Action.NEXT_STOP] * checked, Action.DARK)
    host.interrupted(WHY)
    assert host.session.dark
    pressed(host, Action.NEXT_STOP)
    assert (host.session.dark, host.session.page) == (False, page)


def test_where_the_cloth_was_laid_one_point_is_asked_for_again_after_the_marks() -> None:
    host, _ = cutting()
    pressed(host, Action.NEXT_STOP, Action.NEXT_STOP, Action.LAY)
    while host.session.page is not Page.STOP:
        pressed(host, Action.CUT_DONE)
    assert host.session.fit is not None
    host.interrupted(WHY)
    pressed(host, Action.NEXT_STOP)
    assert host.session.page is Page.LAYING
    assert host.session.marking is not None
    assert host.session.marking.known


def test_a_session_that_was_left_is_left_alone() -> None:
    host, _ = cutting()
    host.session = replace(host.session, page=Page.LEFT)
    assert not host.interrupted(WHY)
