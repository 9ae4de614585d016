"""Whole files on disk: the old content or the new, never half of either, whatever happens in between."""

from __future__ import annotations

import contextlib
import os
import secrets
import stat
from pathlib import Path

_BINARY = getattr(os, "O_BINARY", 0)


class CannotWrite(Exception):  # noqa: N818 - says what happened
    """The file could not be written and is as it was before; ``what`` is wrong and ``advice`` on what to do."""

    def __init__(self, path: Path, what: str, advice: str) -> None:
        super().__init__(f"{path}: {what}; {advice}")
        self.path = path
        self.what = what
        self.advice = advice


def write_whole(path: Path, content: str | bytes) -> None:
    """Put ``content`` (text as UTF-8) into the file, replacing it in one step and keeping its permissions.

    A temporary file in the same folder is written, brought to the disk and renamed. A symbolic link keeps pointing to
    the file that is replaced. Raises CannotWrite, leaving nothing behind.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    try:
        target = Path(os.path.realpath(path))
        mode = _mode_of(target, path)
        _replace(target, data, mode)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        advice = "check that the folder exists, may be written to and has room"
        raise CannotWrite(path, f"it cannot be written ({reason})", advice) from error


def _mode_of(target: Path, path: Path) -> int | None:
    """Permissions of the file that is there, None when there is none; refuses folders, devices and locked files."""
    try:
        mode = target.stat().st_mode
    except FileNotFoundError:
        return None
    if not stat.S_ISREG(mode):
        raise CannotWrite(path, "this is not a file", "give another name")
    if not os.access(target, os.W_OK):
        raise CannotWrite(path, "this file may only be read", "give another name, or allow writing to it")
    return stat.S_IMODE(mode)


def _replace(target: Path, data: bytes, mode: int | None) -> None:
    # The name does not grow with the target's, which may be as long as names may be.
    temporary = target.with_name(f".lightchalk-{secrets.token_hex(8)}.tmp")
    handle = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, 0o666)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if mode is not None:
            temporary.chmod(mode)
        os.replace(temporary, target)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise
    _sync_folder(target.parent)


def _sync_folder(folder: Path) -> None:
    """Bring the rename itself to the disk; not every system can open a folder, and the file is whole either way."""
    if hasattr(os, "O_DIRECTORY"):
        with contextlib.suppress(OSError):
            handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)
