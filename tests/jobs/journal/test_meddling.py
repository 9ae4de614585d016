"""The journal taken away, cut short, changed or locked anew while a session runs: nothing that was kept is lost."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from jobs.journal import AlreadyOpen, BadLine, CannotRecord, JournalFile, journal_path, progress, read_journal

WHEN = datetime(2031, 5, 4, 10, 0, tzinfo=UTC)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return journal_path(tmp_path / "porch.yaml")


def tick(journal: JournalFile, cut: str, when: datetime = WHEN) -> None:
    journal.append("done", cut, "plan", when)


def lock_of(path: Path) -> Path:
    return path.with_name(path.name + ".lock")


def done_in(path: Path) -> tuple[str, ...]:
    return progress(read_journal(path).events)


@pytest.mark.parametrize("meddle", ["taken away", "emptied", "cut short", "moved", "saved over"])
def test_a_journal_taken_away_or_cut_short_is_put_back_with_every_tick(path: Path, meddle: str) -> None:
    with JournalFile(path) as journal:
        tick(journal, "a")
        tick(journal, "b")
        if meddle == "taken away":
            path.unlink()
        elif meddle == "moved":
            path.rename(path.with_name("elsewhere"))
        elif meddle == "saved over":
            whole = path.read_bytes()
            path.unlink()
            path.write_bytes(whole)
        else:
            os.truncate(path, 0 if meddle == "emptied" else path.stat().st_size - 9)
        tick(journal, "c")
        assert journal.put_back == 1
        assert done_in(path) == ("a", "b", "c")
        tick(journal, "d")
        assert journal.put_back == 1
    with JournalFile(path) as journal:
        assert not journal.torn
        assert progress(journal.events) == ("a", "b", "c", "d")
    assert [found.name for found in path.parent.iterdir() if found.suffix == ".new"] == []


def test_a_journal_that_tells_other_things_is_not_written_over(path: Path) -> None:
    with JournalFile(path) as journal:
        tick(journal, "a")
        other = path.read_bytes().replace(b'"a"', b'"z"')
        path.write_bytes(other)
        for _ in range(2):
            with pytest.raises(CannotRecord, match="another program has changed it"):
                tick(journal, "b")
        assert path.read_bytes() == other
        assert progress(journal.events) == ("a",)


def test_a_folder_that_is_gone_is_said_and_mended_when_it_is_back(path: Path) -> None:
    path = journal_path(path.parent / "jobs" / "porch.yaml")
    path.parent.mkdir()
    with JournalFile(path) as journal:
        tick(journal, "a")
        path.parent.rename(path.parent.with_name("away"))
        with pytest.raises(CannotRecord, match="No such file"):
            tick(journal, "b")
        path.parent.with_name("away").rename(path.parent)
        tick(journal, "b")
    assert done_in(path) == ("a", "b")


def test_a_file_larger_than_any_record_is_refused_and_never_read_whole(path: Path) -> None:
    with JournalFile(path) as journal:
        tick(journal, "a")
        with path.open("r+b") as file:
            file.truncate(10_000_000_000)  # a hole: it takes no room on the disk
        with pytest.raises(CannotRecord, match="larger than 20 million bytes"):
            tick(journal, "b")
        assert progress(journal.events) == ("a",)
    for read in (read_journal, JournalFile):
        with pytest.raises(BadLine, match="larger than 20 million bytes"):
            read(path)


def test_a_clock_set_back_changes_no_order(path: Path) -> None:
    with JournalFile(path) as journal:
        tick(journal, "a", WHEN)
        tick(journal, "b", WHEN.replace(year=1970))
        journal.append("undone", "a", "plan", WHEN.replace(year=2000))
        tick(journal, "c", WHEN.replace(year=1999))
    with JournalFile(path) as journal:
        assert [event.number for event in journal.events] == [1, 2, 3, 4]
    assert done_in(path) == ("b", "c")


def test_a_lock_taken_away_is_taken_anew(path: Path) -> None:
    with JournalFile(path) as journal:
        lock_of(path).unlink()
        tick(journal, "a")
        with pytest.raises(AlreadyOpen):
            JournalFile(path)


def test_a_session_that_lost_its_lock_to_another_ticks_nothing_and_harms_nothing(path: Path) -> None:
    with JournalFile(path) as first:
        tick(first, "a")
        lock_of(path).unlink()
        with JournalFile(path) as second:
            tick(second, "b")
            with pytest.raises(CannotRecord, match="another session on this job has begun"):
                tick(first, "c")
        # The other one has ended; what it ticked is not known here, so nothing may be written over it.
        with pytest.raises(CannotRecord, match="another program has changed it"):
            tick(first, "c")
    assert done_in(path) == ("a", "b")


def test_a_lock_file_that_goes_while_it_is_opened_is_opened_anew(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, times = os.fstat, [0]

    def fstat(file: int) -> os.stat_result:
        times[0] += 1
        if times[0] == 1:
            lock_of(path).unlink()
        return real(file)

    monkeypatch.setattr(os, "fstat", fstat)
    with JournalFile(path), pytest.raises(AlreadyOpen):
        JournalFile(path)


HOLD = """
import sys
from pathlib import Path
from jobs.journal import JournalFile
journal = JournalFile(Path(sys.argv[1]))
journal.append("done", "a", "plan")
print("held", flush=True)
sys.stdin.read()
"""


def test_who_holds_a_job_is_said_and_a_killed_session_holds_it_no_longer(path: Path) -> None:
    holding = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        assert holding.stdout is not None
        assert holding.stdout.readline() == "held\n"
        with pytest.raises(AlreadyOpen, match=f"process {holding.pid} since ") as refused:
            JournalFile(path)
        assert refused.value.holder.startswith(f"process {holding.pid} since ")
        holding.send_signal(signal.SIGKILL)
        holding.wait()
        with JournalFile(path) as journal:
            assert progress(journal.events) == ("a",)
    finally:
        holding.kill()
        holding.communicate()


FULL = """
import resource, signal, sys
from pathlib import Path
from jobs.journal import CannotRecord, JournalFile
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
path, spare = Path(sys.argv[1]), int(sys.argv[2])
with JournalFile(path) as journal:
    journal.append("done", "a", "plan")
    resource.setrlimit(resource.RLIMIT_FSIZE, (path.stat().st_size + spare, resource.RLIM_INFINITY))
    for _ in range(3):
        try:
            journal.append("done", "b", "plan")
        except CannotRecord as refused:
            print(refused.reason)
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    journal.append("done", "c", "plan")
"""


@pytest.mark.skipif(sys.platform == "win32", reason="this system sets no limits to files")
@pytest.mark.parametrize("spare", [0, 1, 50])
def test_a_file_that_may_not_grow_is_said_each_time_and_goes_on_when_it_may(path: Path, spare: int) -> None:
    command = [sys.executable, "-c", FULL, str(path), str(spare)]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    assert ran.stdout == "File too large\n" * 3
    assert done_in(path) == ("a", "c")
    assert not read_journal(path).torn
