"""One session at a time on one job: an exclusive lock that ends with the process that holds it."""

from __future__ import annotations

import os
import sys
from pathlib import Path


class AlreadyOpen(Exception):  # noqa: N818 - says what is the matter
    """Another session holds the job."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path} is held by another session on this job; end that one first")


def take_lock(path: Path) -> int:
    """Open ``path`` (made when missing) and lock it; the open file to give to ``release_lock``.

    Raises AlreadyOpen when another session holds it, OSError when the file cannot be made.
    """
    handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_CLOEXEC", 0), 0o644)
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        os.close(handle)
        if isinstance(error, BlockingIOError | PermissionError):
            raise AlreadyOpen(path) from None
        raise
    return handle


def release_lock(handle: int) -> None:
    """Let the lock go. Its file stays: taking it away could split two sessions over two files."""
    if sys.platform == "win32":
        import msvcrt

        os.lseek(handle, 0, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)
    os.close(handle)
