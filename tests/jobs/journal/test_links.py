"""Beside a job nothing is written or emptied through a link, and nothing that the program did not make."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from jobs.io.disk import StrangeFile, open_own, put_whole, read_own
from jobs.journal import AlreadyOpen, BadLine, CannotRecord, JournalFile, journal_path, progress, read_journal

PRECIOUS = b"Dear aunt, this letter is the only one.\n"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    job = tmp_path / "shop" / "porch.yaml"
    job.parent.mkdir()
    job.write_text("job: Porch\n", encoding="utf-8")
    return job


@pytest.fixture
def letter(tmp_path: Path) -> Path:
    letter = tmp_path / "letter.txt"
    letter.write_bytes(PRECIOUS)
    return letter


def one_tick(job: Path) -> None:
    with JournalFile(journal_path(job)) as journal:
        journal.append("done", "a", "plan")


@pytest.mark.parametrize("ending", [".cuts", ".cuts.lock"])
@pytest.mark.parametrize("kind", ["link", "link to nothing", "hard link", "copy", "pipe", "link to a pipe"])
def test_what_the_program_did_not_make_is_refused_and_left_as_it_is(
    job: Path, letter: Path, ending: str, kind: str
) -> None:
    strange = job.with_name(job.name + ending)
    if kind == "link":
        strange.symlink_to(letter)
    elif kind == "link to nothing":
        strange.symlink_to(letter.with_name("nothing"))
    elif kind == "hard link":
        strange.hardlink_to(letter)
    elif kind == "copy":
        strange.write_bytes(PRECIOUS)
    elif kind == "pipe":
        os.mkfifo(strange)
    else:
        os.mkfifo(letter.with_name("pipe"))
        strange.symlink_to(letter.with_name("pipe"))
    before = strange.lstat()
    with pytest.raises((CannotRecord, BadLine)):
        one_tick(job)
    assert letter.read_bytes() == PRECIOUS
    assert os.path.samestat(strange.lstat(), before)
    assert not letter.with_name("nothing").exists()
    if kind == "copy":
        assert strange.read_bytes() == PRECIOUS


def test_an_empty_file_under_two_names_is_not_taken_for_a_lock(job: Path, letter: Path) -> None:
    letter.write_bytes(b"")
    job.with_name(job.name + ".cuts.lock").hardlink_to(letter)
    with pytest.raises(CannotRecord, match="second name of another file") as refused:
        one_tick(job)
    assert refused.value.advice == "move it away: it is left as it is"
    assert letter.read_bytes() == b""


@pytest.mark.parametrize("kind", ["link", "pipe", "folder"])
def test_reading_a_record_never_waits_and_never_follows(job: Path, letter: Path, kind: str) -> None:
    path = journal_path(job)
    if kind == "link":
        path.symlink_to(letter)
    elif kind == "pipe":
        os.mkfifo(path)
    else:
        path.mkdir()
    with pytest.raises(OSError, match="link to another file" if kind == "link" else "not a plain file"):
        read_journal(path)


def test_a_record_that_becomes_a_link_at_work_is_not_written_through(job: Path, letter: Path) -> None:
    path = journal_path(job)
    with JournalFile(path) as journal:
        journal.append("done", "a", "plan")
        path.rename(path.with_name("elsewhere"))
        path.symlink_to(letter)
        with pytest.raises(CannotRecord, match="it is a link to another file"):
            journal.append("done", "b", "plan")
        path.unlink()
        journal.append("done", "b", "plan")
    assert letter.read_bytes() == PRECIOUS
    assert progress(read_journal(path).events) == ("a", "b")


def test_a_name_lying_in_wait_for_a_record_put_back_is_not_written_through(job: Path, letter: Path) -> None:
    path = journal_path(job)
    with JournalFile(path) as journal:
        journal.append("done", "a", "plan")
        path.with_name(path.name + ".new").symlink_to(letter)
        path.unlink()
        journal.append("done", "b", "plan")
        assert journal.put_back == 1
    assert letter.read_bytes() == PRECIOUS


def test_a_job_under_two_names_in_one_folder_has_one_record_and_one_session(job: Path) -> None:
    other = job.with_name("a second name.yaml")
    one_tick(job)
    other.hardlink_to(job)
    assert journal_path(other) == journal_path(job) == job.with_name("porch.yaml.cuts")
    with JournalFile(journal_path(job)), pytest.raises(AlreadyOpen):
        JournalFile(journal_path(other))


def test_a_job_under_two_names_in_two_folders_has_one_session(job: Path, tmp_path: Path) -> None:
    other = tmp_path / "den.yaml"
    other.hardlink_to(job)
    with JournalFile(journal_path(job)), pytest.raises(AlreadyOpen, match="under another name of the same file"):
        JournalFile(journal_path(other))
        # Neither lock of the refused one is left behind.
    JournalFile(journal_path(other)).close()


def test_a_job_saved_anew_at_work_is_still_held(job: Path) -> None:
    with JournalFile(journal_path(job)) as journal:
        put_whole(job, b"job: Porch\n# changed\n")
        with pytest.raises(AlreadyOpen):
            JournalFile(journal_path(job))
        journal.append("done", "a", "plan")


def test_a_pipe_without_a_writer_is_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for flags in (os.O_RDONLY, os.O_WRONLY, os.O_RDWR):
        with pytest.raises(StrangeFile, match="not a plain file"):
            open_own(tmp_path / "pipe", flags)


def test_a_folder_that_is_a_link_may_hold_jobs(job: Path, tmp_path: Path) -> None:
    (tmp_path / "door").symlink_to(job.parent)
    one_tick(tmp_path / "door" / job.name)
    assert read_own(journal_path(job), 10_000).count(b"\n") == 1
