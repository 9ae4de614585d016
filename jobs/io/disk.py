"""Files of the program's own on the disk: no link is followed, no pipe waited for, and a file is put in place whole."""

from __future__ import annotations

import errno
import os
import secrets
import stat
from contextlib import suppress
from pathlib import Path

_ALWAYS = (
    getattr(os, "O_BINARY", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_NOFOLLOW", 0)
    # Opening a pipe would wait for somebody at its other end.
    | getattr(os, "O_NONBLOCK", 0)
)


class StrangeFile(OSError):  # noqa: N818 - it is the file that is strange
    """What lies at a path was not put there by this program, so it is left alone; ``strerror`` says what it is."""

    advice = "move it away"

    def __init__(self, path: Path, what: str) -> None:
        super().__init__(errno.EPERM, what, str(path))


def open_own(path: Path, flags: int, mode: int = 0o644) -> int:
    """Open a file of the program's own; the descriptor.

    Raises StrangeFile for a link, a second name of another file that is to be written, a pipe, a device; OSError.
    """
    if path.is_symlink():
        raise _link(path)
    try:
        handle = os.open(path, flags | _ALWAYS, mode)
    except OSError as error:
        # A link that came to be since; a pipe without a reader.
        if error.errno in (errno.ELOOP, getattr(errno, "EMLINK", errno.ELOOP)):
            raise _link(path) from None
        if error.errno == errno.ENXIO:
            raise StrangeFile(path, "it is not a plain file") from None
        raise
    try:
        status = os.fstat(handle)
        if not stat.S_ISREG(status.st_mode):
            raise StrangeFile(path, "it is not a plain file")
        if status.st_nlink > 1 and flags & (os.O_WRONLY | os.O_RDWR):
            raise StrangeFile(path, "it is a second name of another file (a hard link)")
    except BaseException:
        os.close(handle)
        raise
    return handle


def read_own(path: Path, most: int) -> bytes:
    """The first ``most`` bytes of a file of the program's own. Raises as ``open_own``."""
    with os.fdopen(open_own(path, os.O_RDONLY), "rb") as file:
        return file.read(most)


def write_all(file: int, data: bytes) -> None:
    """Write all of ``data``, however little the system takes at a time."""
    while data:
        data = data[os.write(file, data) :]


def put_whole(path: Path, data: bytes, mode: int | None = None) -> None:
    """Put ``data`` into the place of the file in one step; a power cut leaves the old file or the new one.

    A new file beside it, under a name nobody can know before, is written, brought to the disk and renamed. ``mode``
    are its permissions, as for any new file if left out. Raises OSError, leaving nothing behind.
    """
    # The name does not grow with the file's, which may be as long as names may be.
    beside = path.with_name(f".lightchalk-{secrets.token_hex(8)}.tmp")
    file = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _ALWAYS, 0o666)
    try:
        try:
            write_all(file, data)
            os.fsync(file)
        finally:
            os.close(file)
        if mode is not None:
            beside.chmod(mode)
        os.replace(beside, path)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Make a new file's name last through a power cut; not every system can open a folder."""
    with suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _link(path: Path) -> StrangeFile:
    return StrangeFile(path, "it is a link to another file")
