"""A disk that fails at the table: nothing is shown done that is not written down, it is said, and a retry works."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from jobs.journal import JournalFile, progress, read_journal
from projector.scene.marks import Kind, Text
from projector.session.actions import Action
from projector.session.cutting.journal import recording_in
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import cutting_of
from tests.projector.session.tables import table_of

REST_S = 9.0
PLAN, TABLE = plan_of(3, 1), table_of(960, 540)


def at_the_first_stop(journal: JournalFile) -> Cutting:
    cutting = cutting_of(PLAN, TABLE, recording_in(journal, PLAN))
    cutting.act(Action.ANY_OTHER, REST_S)
    return cutting


def words(cutting: Cutting) -> str:
    return " ".join(" ".join(mark.text for mark in cutting.lit().scene.marks if isinstance(mark, Text)).split())


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
                cutting.act(Action.CUT_DONE, REST_S)
                assert (cutting.state.page, cutting.state.done) == (Page.TROUBLE, ())
                assert text in words(cutting)
                assert "no cut was ticked" in words(cutting)
                assert cutting.publish()["trouble"].startswith("It could not be written down.")
                cutting.act(Action.ANY_OTHER, REST_S)
                assert cutting.lit().scene.of(Kind.CUT, Kind.CUT_DOUBTFUL)
                assert not cutting.lit().scene.of(Kind.DONE)
        cutting.act(Action.CUT_DONE, REST_S)
        assert cutting.state.done == ("cut-1",)
    assert progress(read_journal(path).events) == ("cut-1",)


def test_an_undo_that_cannot_be_written_leaves_the_tick(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with JournalFile(tmp_path / "porch.yaml.cuts") as journal:
        cutting = at_the_first_stop(journal)
        cutting.act(Action.CUT_DONE, REST_S)
        with monkeypatch.context() as broken:
            broken.setattr(os, "write", no_write(errno.ENOSPC, "full"))
            cutting.act(Action.UNDO, REST_S)
            assert (cutting.state.page, cutting.state.done) == (Page.TROUBLE, ("cut-1",))
        for action in (Action.ANY_OTHER, Action.UNDO):
            cutting.act(action, REST_S)
        assert cutting.state.done == ()


def test_an_answer_about_a_turned_panel_that_cannot_be_written_does_not_count(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with JournalFile(tmp_path / "porch.yaml.cuts") as journal:
        cutting = at_the_first_stop(journal)
        for action in (Action.CUT_DONE, Action.NEXT_STOP):
            cutting.act(action, REST_S)
        with monkeypatch.context() as broken:
            broken.setattr(os, "write", no_write(errno.ENOSPC, "full"))
            cutting.act(Action.NEXT_STOP, REST_S)
        assert (cutting.state.page, cutting.state.ways) == (Page.TROUBLE, ())
        for _ in range(3):
            cutting.act(Action.NEXT_STOP, REST_S)
        assert (cutting.state.page, len(cutting.state.ways)) == (Page.STOP, 1)


def test_a_record_taken_away_at_work_is_written_anew_and_that_is_said(tmp_path: Path) -> None:
    path = tmp_path / "porch.yaml.cuts"
    with JournalFile(path) as journal:
        cutting = at_the_first_stop(journal)
        for action in (Action.CUT_DONE, Action.NEXT_STOP, Action.NEXT_STOP):
            cutting.act(action, REST_S)
        path.unlink()
        cutting.act(Action.UNDO, REST_S)
        cutting.act(Action.UNDO, REST_S)
        assert cutting.state.done == ()
        path.unlink()
        cutting.act(Action.CUT_DONE, REST_S)
        assert "it was written anew" in cutting.state.status
    assert progress(read_journal(path).events) == ("cut-1",)
    assert [event.event for event in read_journal(path).events] == [
        "planned",
        "done",
        "way confirmed",
        "way asked again",
        "undone",
        "done",
    ]
