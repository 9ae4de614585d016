"""A disk that fails at the table: nothing is shown done that is not written down, it is said, and a retry works."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from jobs.journal import JournalFile, progress, read_journal
from projector.scene.marks import Kind, Text
from projector.session.actions import Action
from projector.session.bench.asked import asked_of
from projector.session.bench.parts import BAD
from projector.session.cutting.host import Cutting
from projector.session.cutting.recording import recording_in
from projector.session.keys import DEFAULT_KEYS
from projector.session.lighting.lighting import bench_of
from projector.session.state.state import Page
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of

REST_S = 9.0
PLAN, TABLE = plan_of(3, 1), table_of(960, 540)


def at_the_first_stop(journal: JournalFile) -> Cutting:
    cutting = Cutting(bench_of(PLAN, TABLE), TABLE, recording_in(journal, PLAN))
    cutting.press(Action.ANY_OTHER, REST_S)
    return cutting


def words(cutting: Cutting) -> str:
    return " ".join(" ".join(mark.text for mark in cutting.scene.marks if isinstance(mark, Text)).split())


def no_write(number: int, text: str):
    def write(file: int, data: bytes) -> int:
        raise OSError(number, text)

    return write


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (errno.ENOSPC, "No space left on device"),
        (errno.EROFS, "Read-only file system"),
        (errno.EIO, "Input/output error"),
    ],
)
def test_a_tick_that_cannot_be_written_is_not_shown_is_said_and_works_later(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, text: str
) -> None:
    path = tmp_path / "porch.yaml.cuts"
    with JournalFile(path) as journal:
        cutting = at_the_first_stop(journal)
        with monkeypatch.context() as broken:
            broken.setattr(os, "write", no_write(number, text))
            for _ in range(3):
                cutting.press(Action.CUT_DONE, REST_S)
                assert (cutting.session.page, cutting.session.done) == (Page.TROUBLE, ())
                assert text in words(cutting)
                assert "no cut was ticked" in words(cutting)
                assert asked_of(cutting.session, DEFAULT_KEYS) == ("STOP: It could not be written down.", BAD)
                cutting.press(Action.ANY_OTHER, REST_S)
                assert cutting.scene.of(Kind.CUT, Kind.CUT_DOUBTFUL)
                assert not cutting.scene.of(Kind.DONE)
        cutting.press(Action.CUT_DONE, REST_S)
        assert cutting.session.done == ("cut-1",)
    assert progress(read_journal(path).events) == ("cut-1",)


def test_an_undo_that_cannot_be_written_leaves_the_tick(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with JournalFile(tmp_path / "porch.yaml.cuts") as journal:
        cutting = at_the_first_stop(journal)
        cutting.press(Action.CUT_DONE, REST_S)
        with monkeypatch.context() as broken:
            broken.setattr(os, "write", no_write(errno.ENOSPC, "full"))
            cutting.press(Action.UNDO, REST_S)
            assert (cutting.session.page, cutting.session.done) == (Page.TROUBLE, ("cut-1",))
        for action in (Action.ANY_OTHER, Action.UNDO):
            cutting.press(action, REST_S)
        assert cutting.session.done == ()


def test_an_answer_about_a_turned_panel_that_cannot_be_written_does_not_count(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with JournalFile(tmp_path / "porch.yaml.cuts") as journal:
        cutting = at_the_first_stop(journal)
        for action in (Action.CUT_DONE, Action.NEXT_STOP):
            cutting.press(action, REST_S)
        with monkeypatch.context() as broken:
            broken.setattr(os, "write", no_write(errno.ENOSPC, "full"))
            cutting.press(Action.NEXT_STOP, REST_S)
        assert (cutting.session.page, cutting.session.ways) == (Page.TROUBLE, ())
        for _ in range(3):
            cutting.press(Action.NEXT_STOP, REST_S)
        assert (cutting.session.page, len(cutting.session.ways)) == (Page.STOP, 1)


def test_a_record_taken_away_at_work_is_written_anew_and_that_is_said(tmp_path: Path) -> None:
    path = tmp_path / "porch.yaml.cuts"
    with JournalFile(path) as journal:
        cutting = at_the_first_stop(journal)
        for action in (Action.CUT_DONE, Action.NEXT_STOP, Action.NEXT_STOP):
            cutting.press(action, REST_S)
        path.unlink()
        cutting.press(Action.UNDO, REST_S)
        cutting.press(Action.UNDO, REST_S)
        assert cutting.session.done == ()
        path.unlink()
        cutting.press(Action.CUT_DONE, REST_S)
        assert "it was written anew" in cutting.session.told
    assert progress(read_journal(path).events) == ("cut-1",)
    assert [event.event for event in read_journal(path).events] == [
        "planned",
        "done",
        "way confirmed",
        "way asked again",
        "undone",
        "done",
    ]
