"""Whole files on disk: the old content or the new, never half of either, whatever happens in between."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from pathlib import Path

from jobs.io.disk import StrangeFile, put_whole, read_own

MOST_OWN_BYTES = 100_000


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
        put_whole(target, data, mode)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        advice = "check that the folder exists, may be written to and has room"
        raise CannotWrite(path, f"it cannot be written ({reason})", advice) from error


def write_own(path: Path, content: str, is_ours: Callable[[bytes], bool]) -> None:
    """Put ``content`` into a file that the program names by itself, beside one of the person's, in one step.

    Nobody chose that name, so what lies there and is not the program's own is left alone: a link, a pipe, a file whose
    bytes ``is_ours`` does not know. Raises CannotWrite.
    """
    try:
        found = read_own(path, MOST_OWN_BYTES)
        if not is_ours(found):
            raise CannotWrite(path, "this file was not written by this program", StrangeFile.advice)
    except FileNotFoundError:
        pass
    except StrangeFile as strange:
        raise CannotWrite(path, f"{strange.strerror}, which is left alone", strange.advice) from None
    except OSError as error:
        raise CannotWrite(path, f"it cannot be read ({error.strerror})", "see who may read it") from None
    write_whole(path, content)


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


def make_folder(path: Path) -> None:
    """Make the folder, and those above it, unless it is there. Raises CannotWrite."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(path, f"the folder cannot be made ({error.strerror})", "name another folder") from error
