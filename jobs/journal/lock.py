"""One session at a time on one job: an exclusive lock that ends with the process that holds it."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from jobs.io.disk import StrangeFile, open_own

LONGEST_NOTE = 200
BEGINS = b"process "
"""How the note in a lock begins: a file that holds anything else is somebody else's."""
TRIES = 10
"""A lock file that is taken away just as it is opened is opened anew, so many times at most."""


class AlreadyOpen(Exception):  # noqa: N818 - says what is the matter
    """Another session holds the job; ``holder`` tells which process since when, empty where that cannot be read."""

    def __init__(self, path: Path, holder: str = "") -> None:
        self.path, self.holder = path, holder
        who = f" ({holder})" if holder else ""
        super().__init__(f"{path} is held by another session on this job{who}; end that one first")


def take_lock(path: Path) -> int:
    """Open ``path`` (made when missing) and lock it; the open file to give to ``release_lock``.

    A lock whose process has ended, however it ended, holds nobody. Raises AlreadyOpen when another session holds it,
    StrangeFile for what is no lock of this program, OSError when the file cannot be made.
    """
    for _ in range(TRIES):
        handle = open_own(path, os.O_RDWR | os.O_CREAT)
        try:
            _check_ours(handle, path)
            _lock(handle)
        except OSError as error:
            os.close(handle)
            if isinstance(error, BlockingIOError | PermissionError):
                raise AlreadyOpen(path, _holder(path)) from None
            raise
        if is_held(handle, path):
            _note_holder(handle)
            return handle
        release_lock(handle)
    raise AlreadyOpen(path)


def take_same_file(path: Path) -> int | None:
    """Lock the person's own file, so that it cannot be held under another of its names; for ``let_go``.

    The file is only read. None where it is not there or where such a lock would keep others from reading it. Raises
    AlreadyOpen when it is held.
    """
    if sys.platform == "win32":
        return None
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC)
    except OSError:
        return None
    try:
        _lock(handle)
    except BlockingIOError:
        os.close(handle)
        raise AlreadyOpen(path, "under another name of the same file") from None
    except OSError:
        # Some network drives lock only what may be written.
        os.close(handle)
        return None
    return handle


def let_go(handle: int | None) -> None:
    """End what ``take_same_file`` began."""
    if handle is not None:
        os.close(handle)


def is_held(handle: int, path: Path) -> bool:
    """Whether the file at ``path`` is the open one: another in its place could be locked by another session."""
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except OSError:
        return False


def release_lock(handle: int) -> None:
    """Let the lock go. Its file stays: taking it away could split two sessions over two files."""
    if sys.platform == "win32":
        import msvcrt

        os.lseek(handle, 0, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)
    os.close(handle)


def _check_ours(handle: int, path: Path) -> None:
    """Raise StrangeFile for a file that holds something else than a note of who has the lock."""
    if sys.platform == "win32" and os.fstat(handle).st_size:
        # The first byte may be locked, so that nobody else can read it.
        return
    found = os.read(handle, LONGEST_NOTE)
    if found and not found.startswith(BEGINS):
        raise StrangeFile(path, "it was not written by this program")


def _lock(handle: int) -> None:
    if sys.platform == "win32":
        import msvcrt

        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _note_holder(handle: int) -> None:
    """Write into the lock who holds it, for the words of a refusal; a full disk is no reason not to hold it."""
    note = f"process {os.getpid()} since {datetime.now().astimezone():%H:%M on %d %B %Y}\n"
    with suppress(OSError):
        os.ftruncate(handle, 0)
        os.lseek(handle, 0, os.SEEK_SET)
        os.write(handle, note.encode("ascii", "replace"))


def _holder(path: Path) -> str:
    try:
        with path.open("rb") as file:
            note = file.read(LONGEST_NOTE).decode("ascii").strip()
    except (OSError, ValueError):
        return ""
    return note if note.isprintable() else ""
