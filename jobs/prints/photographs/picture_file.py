"""The one place where a picture file is opened: known kinds only, told by their first bytes, their size seen first."""

from __future__ import annotations

import logging
import os
import stat
import struct
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import BinaryIO

from PIL import Image

from jobs.model.problems import Code
from jobs.prints.photographs.problems import PhotoCode, PhotoRefused

MOST_PIXELS = 100_000_000
MOST_WEBP_PIXELS = 40_000_000
"""A WebP is decoded whole, and held three times over while that is done."""
MOST_BYTES = 1 << 30
MOST_SCANS = 60
"""Of a JPEG: each goes over the whole picture; those that cameras and programs write have about ten."""

# A library's own words are not for the person: what went wrong is told by ours.
logging.getLogger("PIL").addHandler(logging.NullHandler())


@contextmanager
def picture_file(path: Path) -> Iterator[Image.Image]:
    """The picture in this file, not yet decoded; decoding it inside the block refuses in words as opening does.

    PNG, JPEG, TIFF or WebP by what is in the file, whatever its name: other decoders are never asked, as some run other
    programs. Raises PhotoRefused for anything that is not one such picture of at most 100 million pixels.
    """
    try:
        with warnings.catch_warnings(), _regular(path) as file:
            warnings.simplefilter("ignore")
            kind = _kind(file)
            with _recognised(file, kind) as image, _silenced() if kind == "TIFF" else nullcontext():
                _check_size(image.width, image.height)
                yield image
    except FileNotFoundError:
        raise PhotoRefused(Code.NO_SUCH_FILE) from None
    except PermissionError:
        raise PhotoRefused(PhotoCode.MAY_NOT_BE_READ) from None
    except (Image.DecompressionBombError, MemoryError):
        raise _too_large() from None
    except PhotoRefused:
        raise
    except (OSError, ValueError, SyntaxError, EOFError, LookupError, TypeError, ArithmeticError, AttributeError,
            struct.error, RuntimeError, AssertionError):  # fmt: skip
        # Whatever a decoder trips over in a picture that was torn or tampered with.
        raise PhotoRefused(PhotoCode.BROKEN_PICTURE) from None


@contextmanager
def _silenced() -> Iterator[None]:
    """Standard error goes nowhere: libtiff writes there by itself, and Pillow cannot keep it from that."""
    try:
        kept = os.dup(2)
    except OSError:  # there is none, as under a window without a terminal
        yield
        return
    try:
        with open(os.devnull, "wb") as nowhere:
            os.dup2(nowhere.fileno(), 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)


@contextmanager
def _regular(path: Path) -> Iterator[BinaryIO]:
    """The file for reading; a folder is refused, and so is a pipe or a device, which might never end."""
    try:
        # Without waiting: a pipe that nobody writes to would never open.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except PermissionError:
        if path.is_dir():  # what Windows says of a folder
            raise _no_file() from None
        raise
    try:
        status = os.fstat(handle)
        if not stat.S_ISREG(status.st_mode):
            raise _no_file(folder=stat.S_ISDIR(status.st_mode))
        if status.st_size > MOST_BYTES:
            raise PhotoRefused(PhotoCode.OVER_A_GIGABYTE)
        with os.fdopen(handle, "rb", closefd=False) as file:
            yield file
    finally:
        os.close(handle)


def _no_file(*, folder: bool = True) -> PhotoRefused:
    return PhotoRefused(PhotoCode.FOLDER if folder else PhotoCode.PIPE)


def _kind(file: BinaryIO) -> str:
    """Which of the known kinds the first bytes are of; what would cost much to open is refused before it is."""
    head = file.read(32)
    file.seek(0)
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if head.startswith(b"\xff\xd8\xff"):
        _check_scans(file)
        return "JPEG"
    if head.startswith((b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")):
        return "TIFF"
    if head.startswith(b"RIFF") and head[8:12] == b"WEBP":
        _check_size(*_webp_size(head), MOST_WEBP_PIXELS)
        return "WEBP"
    raise PhotoRefused(PhotoCode.NOT_A_PICTURE if head else PhotoCode.EMPTY_PICTURE)


def _recognised(file: BinaryIO, kind: str) -> Image.Image:
    try:
        return Image.open(file, formats=[kind])
    except (Image.DecompressionBombError, MemoryError):
        raise
    except Exception:
        # Its first bytes are right, what follows is torn, or of a sort that is not decoded, such as colours as floats.
        raise PhotoRefused(PhotoCode.KIND_NOT_READ, kind="WebP" if kind == "WEBP" else kind) from None


def _check_size(wide: int, high: int, most: int = MOST_PIXELS) -> None:
    if wide * high > most:
        raise _too_large(most)


def _too_large(most: int = MOST_PIXELS) -> PhotoRefused:
    code = PhotoCode.TOO_MANY_PIXELS if most == MOST_PIXELS else PhotoCode.TOO_MANY_FOR_WEBP
    return PhotoRefused(code, millions=most // 1_000_000)


def _check_scans(file: BinaryIO) -> None:
    scans, last = 0, b""
    while scans <= MOST_SCANS and (block := file.read(1 << 20)):
        scans += (last + block).count(b"\xff\xda")
        last = block[-1:] if block.endswith(b"\xff") else b""
    file.seek(0)
    if scans > MOST_SCANS:
        raise PhotoRefused(PhotoCode.TOO_MANY_LAYERS)


def _webp_size(head: bytes) -> tuple[int, int]:
    """Width and height from the first chunk (RFC 9649, 2.5 to 2.7): the decoder sets its memory aside on opening."""
    chunk = head[12:16]
    if chunk == b"VP8X":
        return int.from_bytes(head[24:27], "little") + 1, int.from_bytes(head[27:30], "little") + 1
    if chunk == b"VP8L":
        bits = int.from_bytes(head[21:25], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    return int.from_bytes(head[26:28], "little") & 0x3FFF, int.from_bytes(head[28:30], "little") & 0x3FFF
