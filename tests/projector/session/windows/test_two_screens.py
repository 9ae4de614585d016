"""Two real displays under a virtual server: light on one, the bench screen on the other, the projector unplugged."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from jobs.journal.file import journal_path, read_journal
from jobs.journal.history import progress
from projector.session.buttons.button import Button, boxes, strip_height
from projector.session.cutting.pages import OFFERS, Page
from tests.projector.session.conftest import LAMP, LAPTOP, TwoScreens
from tests.projector.session.windows.test_real_window import AtTheTable, at_the_table


def bench_of(table: AtTheTable) -> np.ndarray:
    return np.load(table.folder / "beside.npy")


def parts(table: AtTheTable) -> tuple[np.ndarray, np.ndarray]:
    """What the laptop's display shows and what the projector's does."""
    seen = table.photograph()
    return seen[: LAPTOP[1], : LAPTOP[0]], seen[: LAMP[1], LAPTOP[0] : LAPTOP[0] + LAMP[0]]


def both_shown(table: AtTheTable) -> bool:
    """Whether each display shows the last frame meant for it, pixel for pixel."""
    if not (table.folder / "beside.npy").exists():
        return False
    bench, light = parts(table)
    return np.array_equal(light, table.frame()) and np.array_equal(bench, bench_of(table))


def settle(table: AtTheTable) -> None:
    """Wait until both displays show the last frame meant for each."""
    table.wait_for(lambda: both_shown(table))


def click(table: AtTheTable, page: Page, says: str) -> None:
    """Click a button of the bench screen by what it says on a page."""
    strip = strip_height(LAPTOP[1])
    asked = [Button(text, "") for text, _ in OFFERS[page]]
    number = [button.says for button in asked].index(says)
    left, upper, right, lower = boxes(asked, LAPTOP[0], strip)[number]
    at = ((left + right) // 2, LAPTOP[1] - strip + (upper + lower) // 2)
    with table.answered():
        table.screen.run("xdotool", "mousemove", str(at[0]), str(at[1]), "click", "1")


def test_light_and_bench_screen_are_shown_at_once_and_a_cut_is_ticked_by_clicks(
    two_screens: TwoScreens, tmp_path: Path
) -> None:
    with at_the_table(two_screens, tmp_path, "two") as table:
        assert table.frame().shape == LAMP[::-1]
        settle(table)
        first = bench_of(table)
        click(table, Page.CAUTIONS, "read: go on")
        click(table, Page.STARTUP_CHECK, "both meet: go on")
        table.wait_for(lambda: not np.array_equal(bench_of(table), first))
        settle(table)
        # The keyboard works as well, whichever window has it; a nudge changes the light alone.
        before = bench_of(table)
        table.keys("Right", "Left")
        settle(table)
        assert np.array_equal(bench_of(table), before)
        table.keys("Next")
        settle(table)
        table.read()
        click(table, Page.IS_IT_CUT, "yes: tick it")
        settle(table)
        assert progress(read_journal(journal_path(tmp_path / "room.yaml")).events) == ("cut-1",)


def test_a_projector_that_is_unplugged_gets_its_light_back_and_the_marks_are_met_again(
    two_screens: TwoScreens, tmp_path: Path
) -> None:
    with at_the_table(two_screens, tmp_path, "two") as table:
        table.keys("Next", "Next")
        settle(table)
        bench, light = bench_of(table), table.frame()
        two_screens.plug(projector=False)
        table.wait_for(lambda: not np.array_equal(bench_of(table), bench), passing_s=0.1)
        # Nobody sees what keys would do now, so they do nothing.
        two_screens.keys("Next", "Next", "Return")
        assert np.array_equal(table.frame(), light)
        count = len(table.frames())
        two_screens.plug(projector=True)
        table.wait_for(lambda: len(table.frames()) > count, passing_s=0.1)
        settle(table)
        assert not np.array_equal(table.frame(), light)
        # The two marks are met: the light is as it was.
        table.keys("Next")
        settle(table)
        assert np.array_equal(table.frame(), light)
        assert progress(read_journal(journal_path(tmp_path / "room.yaml")).events) == ()


def test_a_closed_laptop_leaves_the_light_where_it_belongs_and_opened_has_its_bench_screen_again(
    two_screens: TwoScreens, tmp_path: Path
) -> None:
    with at_the_table(two_screens, tmp_path, "two") as table:
        table.keys("Next", "Next")
        settle(table)
        light = table.frame()
        two_screens.laptop(opened=False)
        try:
            table.wait_for(lambda: np.array_equal(table.photograph()[: LAMP[1], : LAMP[0]], light), passing_s=0.1)
            # Work goes on by the keyboard alone.
            table.keys("Next")
            table.read()
            table.keys("Next")
            assert progress(read_journal(journal_path(tmp_path / "room.yaml")).events) == ("cut-1",)
            table.wait_for(lambda: np.array_equal(table.photograph()[: LAMP[1], : LAMP[0]], table.frame()))
        finally:
            two_screens.laptop(opened=True)
        table.wait_for(lambda: both_shown(table), passing_s=0.1)
