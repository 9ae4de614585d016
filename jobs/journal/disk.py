"""Bytes on the disk to stay: written whole, cut back, put in the place of a file in one step."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from jobs.journal.events import BadLine

MOST_BYTES = 20_000_000
"""A hundred thousand ticks."""
BINARY = getattr(os, "O_BINARY", 0)


def bytes_of(path: Path) -> bytes:
    """What the file holds; raises BadLine where it is larger than any record of cuts."""
    with path.open("rb") as file:
        data = file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise BadLine(1, f"the file is larger than {MOST_BYTES // 1_000_000} million bytes, which no record of cuts is")
    return data


def open_file(path: Path) -> int:
    """The file, made when missing, open for reading and writing."""
    return os.open(path, os.O_RDWR | os.O_CREAT | BINARY | getattr(os, "O_CLOEXEC", 0), 0o644)


def write_all(file: int, data: bytes) -> None:
    """Write all of ``data``, however little the system takes at a time."""
    while data:
        data = data[os.write(file, data) :]


def cut_back(file: int, size: int) -> None:
    """Take away what stands after ``size`` bytes."""
    os.ftruncate(file, size)
    os.fsync(file)


def put_whole(path: Path, data: bytes) -> None:
    """Put ``data`` into the file in one step; a power cut leaves the old file or the new one."""
    beside = path.with_name(path.name + ".new")
    file = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | BINARY, 0o644)
    try:
        write_all(file, data)
        os.fsync(file)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise
    finally:
        os.close(file)
    os.replace(beside, path)
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Make a new file's name last through a power cut, where folders can be synced."""
    with suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
