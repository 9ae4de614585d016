"""The cloth laid in windows: under SDL's dummy driver, and on a virtual screen with a kill in between."""

from __future__ import annotations

import json
import signal
from pathlib import Path

from jobs.journal.file import JournalFile, journal_path, read_journal
from projector.session import run
from projector.session.cutting.journal import recording_in
from projector.session.cutting.state import setup_of
from projector.session.mode import Rim
from tests.projector.session.conftest import VirtualScreen
from tests.projector.session.hands import DUMMY, ENTER, ESCAPE, PAGE_DOWN, Hands, rested
from tests.projector.session.plans import plan_of
from tests.projector.session.tables import table_of
from tests.projector.session.windows.test_real_window import at_the_table

L = (ord("l"), "l")


def kinds_in(path: Path) -> list[str]:
    return [event.event for event in read_journal(path).events]


def test_a_laying_is_on_disk_before_the_light_follows_it(tmp_path: Path) -> None:
    path = tmp_path / "room.yaml.cuts"
    hands = Hands(PAGE_DOWN, L, *[PAGE_DOWN] * 5, ESCAPE, ENTER)
    plan = plan_of(3, 1)
    with JournalFile(path) as journal:
        record = recording_in(journal, plan)
        session = run.run_cutting(setup_of(plan, table_of(*DUMMY)), record, rim=Rim(on_frame=hands, clock=rested()))
    hands.done()
    assert kinds_in(path) == ["laid"]
    assert len(session.registered) == 1


def test_a_laying_survives_a_kill_and_one_point_is_asked_for(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    journal = journal_path(tmp_path / "room.yaml")
    with at_the_table(virtual_screen, tmp_path) as table:
        table.keys("space", "l", "shift+Right", "Right")
        table.keys("Return", "l")
        table.read()
        table.keys("Return")
        assert kinds_in(journal) == ["laid"]
        table.program.send_signal(signal.SIGKILL)
        table.ended()
    with at_the_table(virtual_screen, tmp_path) as table:
        table.keys("space", "shift+Left", "Return")
        table.read()
        table.keys("Return")
        assert kinds_in(journal) == ["laid", "laid"]
        virtual_screen.keys("Escape", "Escape")
        assert table.ended() == 0
    first, second = json.loads((tmp_path / "layings.txt").read_text())
    # 9/16 in to the right, then 1/2 to the left of where that put it.
    assert abs(first[0] - second[0] - 1 / 2) < 1 / 64
