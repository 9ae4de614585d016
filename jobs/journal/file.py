"""The journal on disk: every event written out before the next key is read."""

from __future__ import annotations

import os
import zlib
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from jobs.io.disk import StrangeFile, open_own, put_whole, read_own, sync_folder, write_all
from jobs.journal.cannot import CannotRecord
from jobs.journal.events import BadLine, Event, Journal, parse_journal, renumbered, to_line
from jobs.journal.lock import AlreadyOpen, is_held, let_go, release_lock, take_lock, take_same_file

ENDING = ".cuts"
MOST_BYTES = 20_000_000
"""Some twenty thousand ticks."""


def beside(job: Path, ending: str) -> Path:
    """A file of the program's own beside a job: the job's name and ``ending``.

    Of a link it is beside the file that the link leads to, and of a file with several names in its folder (hard links)
    beside that one which has a record, or else comes first: so one job has one record and one lock.
    """
    job = job.resolve() if job.is_symlink() else job
    names = _names_of(job)
    named = next((name for name in names if name.with_name(name.name + ENDING).exists()), min(names, default=job))
    return named.with_name(named.name + ending)


def _names_of(job: Path) -> list[Path]:
    """The names that the file has in its folder, in order; none where it has but this one."""
    try:
        status = job.stat()
        if status.st_nlink < 2:
            return []
        here = [job.parent / name for name in os.listdir(job.parent)]
        return sorted(one for one in here if not one.is_symlink() and os.path.samestat(one.lstat(), status))
    except OSError:
        return []


def journal_path(job: Path, cloth: str = "") -> Path:
    """The journal of a job file, as ``beside`` has it; each further ``cloth`` has one of its own, by its short name."""
    return beside(job, f".{cloth}{ENDING}" if cloth else ENDING)


def records_of(job: Path) -> dict[str, Path]:
    """The journals beside a job file, one for each of its cloths that is begun, by what follows the job's own name."""
    first = journal_path(job)
    begins = first.name.removesuffix(ENDING)
    try:
        names = sorted(entry.name for entry in first.parent.iterdir())
    except OSError:
        return {}
    ours = (name for name in names if name.startswith(f"{begins}.") and name.endswith(ENDING))
    return {name.removeprefix(begins): first.with_name(name) for name in ours}


def bytes_of(path: Path) -> bytes:
    """What a journal holds; raises BadLine where it is larger than any record of cuts, OSError."""
    data = read_own(path, MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        what = f"the file is larger than {MOST_BYTES // 1_000_000} million bytes, which no record of cuts is"
        raise BadLine(1, what, is_of_a_record=False)
    return data


def open_file(path: Path) -> int:
    """The journal, made when missing, open for reading and writing."""
    return open_own(path, os.O_RDWR | os.O_CREAT)


def cut_back(file: int, size: int) -> None:
    """Take away what stands after ``size`` bytes."""
    os.ftruncate(file, size)
    os.fsync(file)


def read_journal(path: Path) -> Journal:
    """The journal as it stands, an empty one when there is no file; nothing is locked or changed.

    Raises BadLine as ``parse_journal`` does, OSError when the file is there and cannot be read (StrangeFile: a link).
    """
    try:
        return parse_journal(bytes_of(path))
    except FileNotFoundError:
        return Journal()


def mended(path: Path) -> Path:
    """Write a journal anew from the lines that can be read; the file beside it that keeps it as it was.

    Raises as ``JournalFile``, which must not have it open.
    """
    lock_path = path.with_name(path.name + ".lock")
    try:
        lock = take_lock(lock_path)
        try:
            data = bytes_of(path)
            kept = path.with_name(f"{path.name}.damaged-{zlib.crc32(data):08x}")
            if not kept.exists():
                put_whole(kept, data)
            elif bytes_of(kept) != data:
                raise StrangeFile(kept, "it was not written by this program")
            put_whole(path, renumbered(parse_journal(data).events))
        finally:
            release_lock(lock)
    except OSError as error:
        raise CannotRecord(path, error) from error
    return kept


class JournalFile:
    """A journal open for one session; ``torn`` tells that a last line cut short or spoilt was found and taken away.

    The job itself is locked too, so that it is not cut under another of its names at the same time.

    ``put_back`` counts how often the file was found missing or cut short while the session ran, and was written anew
    from what the session knows. Raises AlreadyOpen when another session has it, BadLine when a line was changed,
    CannotRecord when the file or the lock beside it cannot be written. To be used in a ``with`` statement, or closed.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.put_back = 0
        self._tried = b""
        self._lock_path = path.with_name(path.name + ".lock")
        try:
            self._lock = take_lock(self._lock_path)
        except StrangeFile as strange:
            raise CannotRecord(self._lock_path, strange) from strange
        except OSError as error:
            raise CannotRecord(path, error) from error
        self._job: int | None = None
        try:
            self._job = take_same_file(path.with_name(path.name.removesuffix(ENDING)))
            self._open()
        except BaseException:
            let_go(self._job)
            release_lock(self._lock)
            raise

    def _open(self) -> None:
        try:
            new = not self.path.exists()
            self._file = open_file(self.path)
        except OSError as error:
            raise CannotRecord(self.path, error) from error
        try:
            data = bytes_of(self.path)
            journal = parse_journal(data)
            if journal.damaged:
                raise journal.damaged[0]
            self._events, self.torn = list(journal.events), journal.torn
            self._held = data[: journal.sound_bytes]
            if self.torn:
                cut_back(self._file, len(self._held))
            if new:
                sync_folder(self.path.parent)
        except OSError as error:
            os.close(self._file)
            raise CannotRecord(self.path, error) from error
        except BaseException:
            os.close(self._file)
            raise

    @property
    def events(self) -> tuple[Event, ...]:
        """All events so far."""
        return tuple(self._events)

    def append(self, event: str, cut: str | None, plan: str, when: datetime | None = None, **more: Any) -> Event:
        """Record one event; it is on the disk when this returns.

        ``plan`` is the fingerprint of the plan, ``when`` now if left out, ``more`` plain JSON values. Events are
        ordered by their numbers: a clock that was set back changes nothing. Raises CannotRecord, and then no event is
        added.
        """
        time = (when or datetime.now(UTC)).isoformat(timespec="seconds")
        made = Event(len(self._events) + 1, event, cut, time, plan, more)
        line = to_line(made)
        try:
            self._hold_the_lock()
            self._hold_the_file()
            self._write(line)
        except OSError as error:
            raise CannotRecord(self.path, error) from error
        self._held += line
        self._events.append(made)
        return made

    def close(self) -> None:
        """Let the file and the lock go."""
        os.close(self._file)
        let_go(self._job)
        release_lock(self._lock)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _write(self, line: bytes) -> None:
        """The line brought to the disk after those that are there, or nothing of it."""
        self._tried = line
        try:
            os.lseek(self._file, len(self._held), os.SEEK_SET)
            write_all(self._file, line)
            os.fsync(self._file)
        except BaseException:
            with suppress(OSError):
                cut_back(self._file, len(self._held))
            raise

    def _hold_the_lock(self) -> None:
        """Take the lock anew where its file was taken away; another session may have begun since."""
        if is_held(self._lock, self._lock_path):
            return
        try:
            anew = take_lock(self._lock_path)
        except AlreadyOpen:
            raise CannotRecord(self.path, "another session on this job has begun", "leave this one") from None
        release_lock(self._lock)
        self._lock = anew

    def _hold_the_file(self) -> None:
        """See that the file still holds what was written; put it back where it was taken away or cut short.

        Raises CannotRecord where it tells something else.
        """
        try:
            found = bytes_of(self.path)
        except FileNotFoundError:
            found = b""
        except BadLine as bad:
            raise CannotRecord(self.path, bad.what, "leave, and see to that file first") from None
        if is_held(self._file, self.path) and found == self._held:
            return
        more = found[len(self._held) :]
        if found.startswith(self._held) and more and self._tried.startswith(more):
            # What is left of a line that failed, where the disk would not even let it be taken away.
            cut_back(self._file, len(self._held))
            return
        if not self._held.startswith(found):
            raise CannotRecord(self.path, "another program has changed it", "leave, and see to that file first")
        put_whole(self.path, self._held)
        anew = open_file(self.path)
        os.close(self._file)
        self._file = anew
        self.put_back += 1
