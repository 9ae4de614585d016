"""The text of a file, with its size and its characters checked before anything else looks at it."""

from __future__ import annotations

import re
import stat
from pathlib import Path

from jobs.job import Place
from jobs.reading.problems import Log, Problems

MOST_BYTES = 1_000_000
LONGEST_LINE = 100_000

# YAML breaks lines at the last three as well, editors do not: places would be wrong.
_UNFIT = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufdd0-\ufdef\ufffe\uffff\ud800-\udfff\x85\u2028\u2029]"
)
_LINE_END = re.compile(r"\r\n|\r|\n")
_OTHER_ENCODINGS = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")
START = Place(1, 1)


def read_text(path: Path) -> str:
    """The file's text; raises Problems when it is missing, too large, not a plain file or not UTF-8 text."""
    log = Log(str(path))
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise _whole(log, "this is not a file", "give the name of a text file")
        if status.st_size > MOST_BYTES:
            raise _too_large(log)
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise _whole(log, "there is no such file", "check the name and the folder") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise _whole(log, f"it cannot be read ({reason})", "check its name and who may read it") from None
    return decode(data, str(path))


def decode(data: bytes, file: str) -> str:
    """The text of these bytes, without a byte order mark; raises Problems for anything but fair UTF-8 text."""
    log = Log(file)
    if len(data) > MOST_BYTES:
        raise _too_large(log)
    if data.startswith(_OTHER_ENCODINGS):
        raise _whole(log, "this is text in another encoding", "save it as UTF-8")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        place = place_at(data[: error.start].decode("utf-8-sig", "replace"), None)
        log.refuse(place, "file", "a character here is not UTF-8 text", "save the file as plain text in UTF-8")
        raise log.all() from None
    check_text(text, file)
    return text


def check_text(text: str, file: str) -> None:
    """Raise Problems for text that is too long or holds control characters."""
    log = Log(file)
    if len(text) > MOST_BYTES:
        raise _too_large(log)
    if unfit := _UNFIT.search(text):
        name = f"a control character (code {ord(unfit[0]):#04x})"
        log.refuse(place_at(text, unfit.start()), "file", f"{name} stands here", "delete it; only plain text is read")
        raise log.all()
    for number, line in enumerate(_LINE_END.split(text), 1):
        if len(line) > LONGEST_LINE:
            log.refuse(Place(number, 1), "file", "this line is far too long", "break it into lines of one key each")
            raise log.all()


def place_at(text: str, index: int | None) -> Place:
    """Line and column, both from 1, of a position in the text (None: its end)."""
    before = text if index is None else text[:index]
    lines = _LINE_END.split(before)
    return Place(len(lines), len(lines[-1]) + 1)


def _too_large(log: Log) -> Problems:
    return _whole(log, "the file is far too large (over 1 MB)", "give a file of this program, a few pages at most")


def _whole(log: Log, what: str, advice: str) -> Problems:
    log.refuse(START, "file", what, advice)
    return log.all()
