"""What a person is told when the record of cuts cannot be kept: held, in a folder that may not be written, damaged."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from jobs.journal import JournalFile, journal_path
from jobs.journal.events import fingerprint
from projector.commands import screen
from projector.commands.loading import load_plan
from projector.files.table_file import write_table
from tests.projector.commands.running import READING_ROOM, Ran, run
from tests.projector.session.rigs import table_of


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A job with its table; a screen is taken to be there, and none is reached."""
    monkeypatch.setattr(screen, "screen_for", lambda *given: 1)
    job = tmp_path / "porch.yaml"
    job.write_text(READING_ROOM.read_text(encoding="utf-8"), encoding="utf-8")
    write_table(tmp_path / "table.yaml", table_of(1280, 720))
    return job


def cut(job: Path) -> Ran:
    return run("cut", job, "--table", job.with_name("table.yaml"))


def test_a_second_session_is_told_which_process_has_the_job_and_since_when(job: Path) -> None:
    with JournalFile(journal_path(job)):
        ran = cut(job)
    assert ran.code == 1
    (said,) = ran.err.splitlines()
    assert f"another session is cutting this job (process {os.getpid()} since " in said
    assert "leave that one first (Esc)" in said
    assert "every tick is kept" in said


def test_a_folder_that_may_only_be_read_is_refused_before_anything_is_lit(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Permissions do not bind every user, so the refusal comes from the call itself.
    real = os.open

    def only_read(path: object, flags: int, mode: int = 0o777) -> int:
        if flags & os.O_CREAT and Path(str(path)).parent == job.parent:
            raise OSError(30, "Read-only file system")
        return real(path, flags, mode)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "open", only_read)
    ran = cut(job)
    assert ran.code == 1
    assert "Read-only file system, so ticks could not be kept; make the folder writable, or copy the job" in ran.err


def test_a_record_that_was_changed_is_refused_with_its_line(job: Path) -> None:
    plan = load_plan(job)
    with JournalFile(journal_path(job)) as journal:
        for placed in plan.placements[:2]:
            journal.append("done", placed.cut.id, fingerprint(plan))
    path = journal_path(job)
    path.write_bytes(path.read_bytes().replace(b'"done"', b'"dome"', 1))
    for ran in (cut(job), run("status", job)):
        assert ran.code == 1
        assert f"{path}:1:1: record of cuts: it was changed or spoilt" in ran.err


def test_a_damaged_file_of_the_light_is_one_sentence_and_no_hindrance(job: Path) -> None:
    job.with_name("porch.yaml.light").write_bytes(b"dark: {\x00")
    with JournalFile(journal_path(job)):  # so that the command ends before it opens a window
        ran = cut(job)
    assert f"Note: {job}.light is damaged: all layers are lit" in ran.out
    assert ran.err.count("\n") == 1


def test_status_says_that_the_record_ends_in_a_torn_line(job: Path) -> None:
    plan = load_plan(job)
    with JournalFile(journal_path(job)) as journal:
        for placed in plan.placements[:2]:
            journal.append("done", placed.cut.id, fingerprint(plan))
    whole = run("status", job)
    journal_path(job).write_bytes(journal_path(job).read_bytes()[:-7])
    ran = run("status", job)
    assert "torn line" not in whole.out
    assert "1 of 2 cuts done" in ran.out
    assert "The record ends in a torn line, as after a power cut: look whether the last cut is ticked." in ran.out
