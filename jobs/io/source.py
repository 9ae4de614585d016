"""The text of a file, with its size and its characters checked before anything else looks at it."""

from __future__ import annotations

import re
import stat
from pathlib import Path

from jobs.io.log import START, FileRefused, Log, Place
from jobs.model.problems import Code, Value

MOST_BYTES = 1_000_000
LONGEST_LINE = 100_000

# YAML breaks lines at the last three as well, editors do not: places would be wrong.
_UNFIT = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufdd0-\ufdef\ufffe\uffff\ud800-\udfff\x85\u2028\u2029]"
)
_LINE_END = re.compile(r"\r\n|\r|\n")
_OTHER_ENCODINGS = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")


def read_text(path: Path) -> str:
    """The file's text; raises FileRefused when it is missing, too large, not a plain file or not UTF-8 text."""
    log = Log(str(path))
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise _whole(log, Code.NOT_A_FILE)
        if status.st_size > MOST_BYTES:
            raise _whole(log, Code.FILE_TOO_LARGE)
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise _whole(log, Code.NO_SUCH_FILE) from None
    except (OSError, ValueError) as error:
        raise _whole(log, Code.CANNOT_BE_READ, reason=getattr(error, "strerror", None)) from None
    return decode(data, str(path))


def decode(data: bytes, file: str) -> str:
    """The text of these bytes, without a byte order mark; raises FileRefused for anything but fair UTF-8 text."""
    log = Log(file)
    if len(data) > MOST_BYTES:
        raise _whole(log, Code.FILE_TOO_LARGE)
    if data.startswith(_OTHER_ENCODINGS):
        raise _whole(log, Code.OTHER_ENCODING)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        place = place_at(data[: error.start].decode("utf-8-sig", "replace"), None)
        log.refuse(place, (), Code.NOT_UTF8)
        raise log.all() from None
    check_text(text, file)
    return text


def check_text(text: str, file: str) -> None:
    """Raise FileRefused for text that is too long or holds control characters."""
    log = Log(file)
    if len(text) > MOST_BYTES:
        raise _whole(log, Code.FILE_TOO_LARGE)
    if unfit := _UNFIT.search(text):
        log.refuse(place_at(text, unfit.start()), (), Code.CONTROL_CHARACTER, number=ord(unfit[0]))
        raise log.all()
    for number, line in enumerate(_LINE_END.split(text), 1):
        if len(line) > LONGEST_LINE:
            log.refuse(Place(number, 1), (), Code.LINE_TOO_LONG)
            raise log.all()


def place_at(text: str, index: int | None) -> Place:
    """Line and column, both from 1, of a position in the text (None: its end)."""
    before = text if index is None else text[:index]
    lines = _LINE_END.split(before)
    return Place(len(lines), len(lines[-1]) + 1)


def _whole(log: Log, code: Code, **values: Value) -> FileRefused:
    log.refuse(START, (), code, **values)
    return log.all()
