"""Why an event could not be recorded, and what to do about it."""

from __future__ import annotations

import errno
from pathlib import Path

from jobs.io.disk import StrangeFile

_FULL = frozenset({errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)})
_SHUT = frozenset({errno.EROFS, errno.EACCES, errno.EPERM})
_GONE = frozenset({errno.ENOENT, errno.ENODEV, getattr(errno, "ESTALE", errno.ENOENT)})
_LOCKLESS = frozenset({errno.ENOLCK, errno.ENOSYS, getattr(errno, "ENOTSUP", errno.ENOSYS)})


class CannotRecord(Exception):  # noqa: N818 - says what is the matter
    """An event could not be written, the journal holds what it held; ``reason`` says why, ``advice`` what to do."""

    def __init__(self, path: Path, error: OSError | str, advice: str = "") -> None:
        self.path = path
        self.reason = error if isinstance(error, str) else error.strerror or str(error)
        self.advice = advice or _advice(error)
        super().__init__(f"{path} cannot be written: {self.reason}")


def _advice(error: OSError | str) -> str:
    if isinstance(error, StrangeFile):
        return f"{error.advice}: it is left as it is"
    number = error.errno if isinstance(error, OSError) else None
    if number in _FULL:
        return "make room on the disk"
    if number in _SHUT:
        return "make the folder writable, or copy the job into one that is"
    if number in _GONE:
        return "see that the folder of the job is there: a stick or a network drive may be unplugged"
    if number in _LOCKLESS:
        return "copy the job into a folder on this computer: where it is, files cannot be locked"
    return "see to the disk"
