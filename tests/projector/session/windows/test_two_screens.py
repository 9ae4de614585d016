"""Two real displays under a virtual server: light on one, the other left alone, the projector unplugged."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from jobs.journal.file import journal_path, read_journal
from jobs.journal.history import progress
from tests.projector.session.conftest import LAMP, LAPTOP, TwoScreens
from tests.projector.session.windows.test_real_window import AtTheTable, at_the_table


def on_the_laptop(table: AtTheTable) -> np.ndarray:
    return table.photograph()[: LAPTOP[1], : LAPTOP[0]]


def on_the_lamp(table: AtTheTable) -> np.ndarray:
    return table.photograph()[: LAMP[1], LAPTOP[0] : LAPTOP[0] + LAMP[0]]


def settle(table: AtTheTable) -> None:
    """Wait until the projector's display shows the last frame, pixel for pixel."""
    table.wait_for(lambda: np.array_equal(on_the_lamp(table), table.frame()))


def test_the_light_fills_the_projector_and_leaves_the_laptop_to_the_page(
    two_screens: TwoScreens, tmp_path: Path
) -> None:
    before = None
    with at_the_table(two_screens, tmp_path, "checked") as table:
        assert table.frame().shape == LAMP[::-1]
        settle(table)
        before = on_the_laptop(table)
        table.keys("Next", "Next", "Right", "Next")
        settle(table)
        table.read()
        table.keys("Next")
        settle(table)
        assert np.array_equal(on_the_laptop(table), before)
        assert progress(read_journal(journal_path(tmp_path / "room.yaml")).events) == ("cut-1",)


def test_a_projector_that_is_unplugged_gets_its_light_back_and_the_marks_are_met_again(
    two_screens: TwoScreens, tmp_path: Path
) -> None:
    with at_the_table(two_screens, tmp_path, "checked") as table:
        table.keys("Next", "Next")
        settle(table)
        light = table.frame()
        two_screens.plug(projector=False)
        # What is left, the laptop's screen, says why.
        table.wait_for(lambda: table.frame().shape == LAPTOP[::-1], passing_s=0.1)
        table.wait_for(lambda: np.array_equal(on_the_laptop(table), table.frame()))
        # Nobody sees what keys would do now, so they do nothing.
        said = table.frame()
        two_screens.keys("Next", "Next", "Return")
        assert np.array_equal(table.frame(), said)
        two_screens.plug(projector=True)
        table.wait_for(lambda: table.frame().shape == LAMP[::-1], passing_s=0.1)
        settle(table)
        assert not np.array_equal(table.frame(), light)
        # The two marks are met: the light is as it was.
        table.keys("Next")
        settle(table)
        assert np.array_equal(table.frame(), light)
        assert progress(read_journal(journal_path(tmp_path / "room.yaml")).events) == ()


def test_a_closed_laptop_leaves_the_light_where_it_belongs(two_screens: TwoScreens, tmp_path: Path) -> None:
    with at_the_table(two_screens, tmp_path, "checked") as table:
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
        table.wait_for(lambda: np.array_equal(on_the_lamp(table), table.frame()), passing_s=0.1)
