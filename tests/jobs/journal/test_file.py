"""The journal on disk. Failures of the disk are made by putting another function in the place of the system's."""

import errno
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from jobs.journal import AlreadyOpen, BadLine, CannotRecord, Journal, JournalFile, journal_path, progress, read_journal

WHEN = datetime(2031, 5, 4, 10, 0, tzinfo=UTC)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return journal_path(tmp_path / "reading room.yaml")


def tick(journal: JournalFile, cut: str) -> None:
    journal.append("done", cut, "plan", WHEN)


def test_the_journal_stands_beside_the_job(tmp_path):
    assert journal_path(tmp_path / "reading room.yaml") == tmp_path / "reading room.yaml.cuts"


def test_a_job_reached_by_a_link_has_the_same_record(tmp_path):
    (tmp_path / "real").mkdir()
    job, link = tmp_path / "real" / "job.yaml", tmp_path / "link.yaml"
    job.write_text("job: Loft\n")
    link.symlink_to(job)
    assert journal_path(link) == journal_path(job)


def test_a_job_not_begun_has_an_empty_journal_and_no_file_is_made(path):
    assert read_journal(path) == Journal()
    assert not path.exists()


def test_ticks_are_there_for_the_next_session(path):
    with JournalFile(path) as journal:
        tick(journal, "a")
        made = journal.append("shift", None, "plan", WHEN, along_in=0.0625)
        assert (made.number, made.time, made.more) == (2, "2031-05-04T10:00:00+00:00", {"along_in": 0.0625})
    with JournalFile(path) as journal:
        assert not journal.torn
        tick(journal, "b")
        assert [event.number for event in journal.events] == [1, 2, 3]
    assert progress(read_journal(path).events) == ("a", "b")


def test_every_event_is_on_the_disk_before_append_returns(path, monkeypatch):
    synced = []
    monkeypatch.setattr(os, "fsync", lambda file: synced.append(os.fstat(file).st_size))
    with JournalFile(path) as journal:
        synced.clear()
        tick(journal, "a")
        assert synced == [path.stat().st_size]


def test_a_torn_tail_is_taken_away_before_anything_is_added(path):
    with JournalFile(path) as journal:
        tick(journal, "a")
    whole = path.read_bytes()
    path.write_bytes(whole + b'{"n":2,"ev')
    assert read_journal(path).torn
    with JournalFile(path) as journal:
        assert journal.torn
        assert path.read_bytes() == whole
        tick(journal, "b")
    assert progress(read_journal(path).events) == ("a", "b")
    assert not read_journal(path).torn


def test_a_changed_line_stops_the_session_and_leaves_the_file_as_it_is(path):
    with JournalFile(path) as journal:
        tick(journal, "a")
        tick(journal, "b")
    spoilt = path.read_bytes().replace(b'"a"', b'"c"')
    path.write_bytes(spoilt)
    for _ in range(2):  # the second time shows that the lock was let go
        with pytest.raises(BadLine, match="line 1: it was changed"):
            JournalFile(path)
    assert path.read_bytes() == spoilt


def test_a_second_session_is_refused_until_the_first_ends(path):
    with JournalFile(path), pytest.raises(AlreadyOpen, match="held by another session on this job"):
        JournalFile(path)
    JournalFile(path).close()


def test_a_session_in_another_process_is_refused_and_a_dead_one_holds_nothing(path):
    code = f"from pathlib import Path; from jobs.journal import JournalFile; JournalFile(Path({str(path)!r})); print(1)"

    def other() -> subprocess.CompletedProcess[str]:
        return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    with JournalFile(path):
        assert "AlreadyOpen" in other().stderr
    assert other().stdout == "1\n"  # ends without closing
    JournalFile(path).close()


def full_disk(after: int):
    """A write that takes ``after`` bytes, then finds the disk full."""
    left = [after]
    real = os.write

    def write(file: int, data: bytes) -> int:
        if left[0] == 0:
            raise OSError(errno.ENOSPC, "No space left on device")
        written = real(file, data[: left[0]])
        left[0] -= written
        return written

    return write


@pytest.mark.parametrize("after", [0, 1, 40])
def test_a_full_disk_is_said_and_leaves_the_journal_valid(path, monkeypatch, after):
    with JournalFile(path) as journal:
        tick(journal, "a")
        before = path.read_bytes()
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", full_disk(after))
            with pytest.raises(CannotRecord, match="cannot be written: No space left"):
                tick(journal, "b")
        assert path.read_bytes() == before
        assert len(journal.events) == 1
        tick(journal, "c")
    assert progress(read_journal(path).events) == ("a", "c")


def test_a_disk_that_cannot_even_be_cut_back_is_mended_by_the_next_event(path, monkeypatch):
    def broken(*_: object) -> None:
        raise OSError(errno.EIO, "Input/output error")

    with JournalFile(path) as journal:
        with monkeypatch.context() as patch:
            patch.setattr(os, "fsync", broken)
            patch.setattr(os, "ftruncate", broken)
            with pytest.raises(CannotRecord, match="Input/output error"):
                journal.append("done", "a-cut-with-a-very-long-name", "plan", WHEN)
        tick(journal, "b")
    assert progress(read_journal(path).events) == ("b",)
    assert not read_journal(path).torn


def test_an_interrupted_append_records_nothing(path, monkeypatch):
    def interrupted(_: int) -> None:
        raise KeyboardInterrupt

    with JournalFile(path) as journal:
        with monkeypatch.context() as patch:
            patch.setattr(os, "fsync", interrupted)
            with pytest.raises(KeyboardInterrupt):
                tick(journal, "a")
        assert journal.events == ()
    assert not read_journal(path).torn


def test_a_file_that_may_not_be_written_is_refused(path, monkeypatch):
    # Permissions do not bind every user, so the refusal comes from the call itself.
    def denied(*_: object) -> int:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(os, "open", denied)
    with pytest.raises(CannotRecord, match="Permission denied"):
        JournalFile(path)


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(CannotRecord, match="No such file"):
        JournalFile(tmp_path / "gone" / "job.yaml.cuts")


def test_a_folder_in_the_place_of_the_journal_is_refused_and_the_lock_let_go(path):
    path.mkdir()
    for _ in range(2):
        with pytest.raises(CannotRecord):
            JournalFile(path)


def test_short_writes_are_completed(path, monkeypatch):
    real = os.write
    monkeypatch.setattr(os, "write", lambda file, data: real(file, data[:7]))
    with JournalFile(path) as journal:
        tick(journal, "a")
    assert progress(read_journal(path).events) == ("a",)
