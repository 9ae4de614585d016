"""The journal on disk: every event written out before the next key is read."""

from __future__ import annotations

import os
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from jobs.journal.events import Event, Journal, parse_journal, to_line
from jobs.journal.lock import release_lock, take_lock

BINARY = getattr(os, "O_BINARY", 0)


class CannotRecord(Exception):  # noqa: N818 - says what is the matter
    """An event could not be written; the journal holds what it held before."""

    def __init__(self, path: Path, error: OSError) -> None:
        self.path, self.reason = path, error.strerror or str(error)
        super().__init__(f"{path} cannot be written: {self.reason}")


def journal_path(job: Path) -> Path:
    """The journal of a job file: beside it, its name and ``.cuts``."""
    return job.with_name(job.name + ".cuts")


def read_journal(path: Path) -> Journal:
    """The journal as it stands, an empty one when there is no file; nothing is locked or changed.

    Raises BadLine as ``parse_journal`` does, OSError when the file is there and cannot be read.
    """
    try:
        return parse_journal(path.read_bytes())
    except FileNotFoundError:
        return Journal()


class JournalFile:
    """A journal open for one session; ``torn`` tells that a line cut short was found and taken away.

    Raises AlreadyOpen when another session has it, BadLine when a line was changed, CannotRecord when the file or the
    lock beside it cannot be written. To be used in a ``with`` statement, or closed.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            self._lock = take_lock(path.with_name(path.name + ".lock"))
        except OSError as error:
            raise CannotRecord(path, error) from error
        try:
            self._open()
        except BaseException:
            release_lock(self._lock)
            raise

    def _open(self) -> None:
        try:
            new = not self.path.exists()
            self._file = os.open(self.path, os.O_RDWR | os.O_CREAT | BINARY | getattr(os, "O_CLOEXEC", 0), 0o644)
        except OSError as error:
            raise CannotRecord(self.path, error) from error
        try:
            journal = parse_journal(self.path.read_bytes())
            self._events, self._size, self.torn = list(journal.events), journal.sound_bytes, journal.torn
            if self.torn:
                self._cut_back()
            if new:
                _sync_folder(self.path.parent)
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

        ``plan`` is the fingerprint of the plan, ``when`` now if left out, ``more`` plain JSON values. Raises
        CannotRecord, and then the file is as it was.
        """
        time = (when or datetime.now(UTC)).isoformat(timespec="seconds")
        made = Event(len(self._events) + 1, event, cut, time, plan, more)
        line = to_line(made)
        try:
            if os.fstat(self._file).st_size != self._size:
                self._cut_back()
            os.lseek(self._file, self._size, os.SEEK_SET)
            _write_all(self._file, line)
            os.fsync(self._file)
        except BaseException as error:
            with suppress(OSError):
                self._cut_back()
            if isinstance(error, OSError):
                raise CannotRecord(self.path, error) from error
            raise
        self._size += len(line)
        self._events.append(made)
        return made

    def close(self) -> None:
        """Let the file and the lock go."""
        os.close(self._file)
        release_lock(self._lock)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _cut_back(self) -> None:
        os.ftruncate(self._file, self._size)
        os.fsync(self._file)


def _write_all(file: int, data: bytes) -> None:
    while data:
        data = data[os.write(file, data) :]


def _sync_folder(folder: Path) -> None:
    """Make a new file's name last through a power cut, where folders can be synced."""
    with suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
