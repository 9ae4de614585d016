"""Events at the table as lines of a file: one JSON object a line, numbered, each with its own checksum."""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from fractions import Fraction
from typing import Any

from jobs.journal.exact import exact, plain_json
from jobs.model.print import SMALLEST_REPEAT
from jobs.model.records import dataclass

DONE, UNDONE = "done", "undone"
REPLANNED = "replanned"
"""The plan was made anew before the first cut, with the repeat along (``along``, a fraction in inches) as measured."""
UNPLANNED = "replan undone"
"""The last such plan was taken back: the plan is as it was before it."""
BEGINS = b'{"crc":"'
"""How every line begins."""
BEGAN = (b'{"about_in":[', b'{"along":"')
"""How some lines of older versions began: a correction of the light, a plan made anew."""
OWN_KEYS = frozenset({"n", "event", "cut", "time", "plan", "crc"})


@dataclass(frozen=True)
class Event:
    """One thing that happened: its number from 1, what, to which cut, when (ISO 8601), under which plan.

    ``event`` is ``done``, ``undone`` or another word, such as how the cloth was laid; ``more`` carries what such an
    event has to say, as plain JSON values.
    """

    number: int
    event: str
    cut: str | None
    time: str
    plan: str
    more: Mapping[str, Any] = field(default_factory=dict)


class BadLine(ValueError):  # noqa: N818 - it is the line that is bad
    """A line before the last cannot be read: something else than this program changed the journal.

    ``is_of_a_record`` is false where the whole file never was a journal.
    """

    def __init__(self, line: int, what: str, *, is_of_a_record: bool = True) -> None:
        self.line, self.what, self.is_of_a_record = line, what, is_of_a_record
        super().__init__(f"line {line}: {what}")


@dataclass(frozen=True)
class Journal:
    """The events of a file, whether its last line was torn, and how many bytes hold the lines before that.

    ``damaged`` are the lines before the last that cannot be read, and gaps: what they told is not known.
    """

    events: tuple[Event, ...] = ()
    torn: bool = False
    sound_bytes: int = 0
    damaged: tuple[BadLine, ...] = ()


def to_line(event: Event) -> bytes:
    """The event as one line with its line end. Raises ValueError for a key of its own or what JSON cannot say."""
    if OWN_KEYS & set(event.more):
        raise ValueError(f"an event may not carry the keys {', '.join(sorted(OWN_KEYS & set(event.more)))}")
    own = {"n": event.number, "event": event.event, "cut": event.cut, "time": event.time, "plan": event.plan}
    fields = {**own, **event.more}
    # The checksum stands first, so that a record is known by its first bytes.
    return b'{"crc":"' + _checksum(fields).encode() + b'",' + plain_json(fields)[1:] + b"\n"


def parse_journal(data: bytes) -> Journal:
    """The events in the bytes of a journal. A last line that is cut short or spoilt is dropped and reported as torn.

    Any other line that cannot be read, and a whole line out of turn, is reported as damaged; all others are read.
    Raises BadLine for what never was a record of this program.
    """
    events: list[Event] = []
    damaged: list[BadLine] = []
    sound, expected, torn = 0, 1, False
    for number, line in enumerate(_lines(data), 1):
        event = _event(line)
        if event is None and sound + len(line) == len(data):
            torn = True
            break
        sound += len(line)
        if event is None:
            damaged.append(BadLine(number, "it was changed or spoilt"))
            expected += 1
            continue
        if event.number != expected:
            damaged.append(BadLine(number, f"it is event {event.number}, out of turn"))
        if event.number >= expected:
            events.append(event)
            expected = event.number + 1
    if not events and not _may_begin(data):
        raise BadLine(1, "this is not a record of cuts that was written by this program", is_of_a_record=False)
    return Journal(tuple(events), torn, sound, tuple(damaged))


def _may_begin(data: bytes) -> bool:
    """Whether these bytes may be a first line of ours: cut short or spoilt, or never brought to the disk (all zero)."""
    return not data.strip(b"\0") or any(begin.startswith(data[: len(begin)]) for begin in (BEGINS, *BEGAN))


def renumbered(events: Iterable[Event]) -> bytes:
    """The bytes of a journal that holds these events and no others."""
    return b"".join(to_line(replace(event, number=number)) for number, event in enumerate(events, 1))


def measured_repeat(events: Iterable[Event]) -> Fraction | None:
    """The repeat along that the plan was last made anew with; None when it is as the job says.

    Raises ValueError when the event does not say it.
    """
    told: list[object] = []
    for event in events:
        if event.event == REPLANNED:
            told.append(event.more.get("along"))
        elif event.event == UNPLANNED and told:
            told.pop()
    return exact(told[-1], least=SMALLEST_REPEAT) if told else None


def since_replanned(events: Iterable[Event]) -> tuple[Event, ...]:
    """The events under the plan as it is now: those after the last time it was made anew, unless that was undone."""
    kept: list[list[Event]] = [[]]
    for event in events:
        if event.event == REPLANNED:
            kept.append([])
        elif event.event == UNPLANNED:
            kept = kept[:-1] or [[]]
        else:
            kept[-1].append(event)
    return tuple(kept[-1])


def _lines(data: bytes) -> list[bytes]:
    parts = data.split(b"\n")
    return [part + b"\n" for part in parts[:-1]] + ([parts[-1]] if parts[-1] else [])


def _event(line: bytes) -> Event | None:
    """The event of one line; None when the line is not whole."""
    try:
        fields = json.loads(line.decode("utf-8")) if line.endswith(b"\n") else None
        if not isinstance(fields, dict) or not fields.keys() >= OWN_KEYS:
            return None
        # What JSON itself cannot say (NaN, 1e999) has no checksum.
        sound = fields.pop("crc") == _checksum(fields)
    except (ValueError, RecursionError):
        return None
    more = {key: value for key, value in fields.items() if key not in OWN_KEYS}
    event = Event(fields["n"], fields["event"], fields["cut"], fields["time"], fields["plan"], more)
    texts = (event.event, event.time, event.plan, event.cut or "")
    whole = type(event.number) is int and all(isinstance(text, str) for text in texts)
    return event if whole and sound else None


def _checksum(fields: Mapping[str, Any]) -> str:
    return f"{zlib.crc32(plain_json(fields)):08x}"
