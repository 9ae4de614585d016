"""The record of cuts beside a job, read or opened with every failure in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path

from jobs.io.disk import StrangeFile
from jobs.journal.cannot import CannotRecord
from jobs.journal.events import BadLine, Event, Journal, measured_repeat
from jobs.journal.file import JournalFile, mended, read_journal
from jobs.journal.history import GIVEN_UP, Made, history_of
from jobs.journal.lock import AlreadyOpen
from jobs.planning.going_on import GoneOn, note_plan
from projector.commands.shared.cloths import Where, record_path, with_cloth
from projector.commands.shared.errors import InputAtFault


def record_of(job: Where) -> Journal:
    """The record as it stands, also where lines of it are damaged; nothing is locked or changed."""
    with _in_words(job):
        return read_journal(record_path(job))


def damage_in_words(job: Where, record: Journal) -> list[str]:
    """A line for each damaged line of the record."""
    path = record_path(job)
    return [
        f"{path}:{bad.line}:1: record of cuts: {bad.what}, so what it told is not known; look at the cloth, then write "
        f"the record anew from all other lines with: lightchalk status {with_cloth(job)} --mend"
        for bad in record.damaged
    ]


def mend_record(job: Where) -> Path:
    """Write the record anew without its damaged lines; the file beside it that holds it as it was."""
    with _in_words(job):
        return mended(record_path(job))


def recorded_repeat(job: Where, events: Sequence[Event]) -> Fraction | None:
    """The repeat along that the plan was made anew with at the table; None when it is as the job file says."""
    try:
        return measured_repeat(events)
    except ValueError as fault:
        raise InputAtFault(
            f"{record_path(job)}: record of cuts: the measured repeat cannot be read ({fault}); move the file away"
        ) from None


def places_unknown_in_words(job: Where, cuts: Sequence[str]) -> str:
    """The line for cuts that were ticked by a version that kept no places, where the job is planned otherwise now."""
    return (
        f"{record_path(job)}: record of cuts: {', '.join(cuts)}: ticked by an older version, which did not keep where "
        "they lie, and the job is planned otherwise now; put the job file back as it was then and begin once with "
        "lightchalk cut: from then on the places are kept. If it is new cloth, move that file away"
    )


@contextmanager
def open_record(job: Where) -> Iterator[JournalFile]:
    """The journal open for one session."""
    with _in_words(job):
        journal = JournalFile(record_path(job))
    with journal:
        yield journal


def give_up(job: Where, cut: str) -> None:
    """Record that a cut that is made serves nobody any more: its cloth is a spare, and it is to be cut anew."""
    _made(job, cut, record_of(job).events)
    with open_record(job) as journal, _in_words(job):
        journal.append(GIVEN_UP, cut, _made(job, cut, journal.events).plan)


def _made(job: Where, cut: str, events: Sequence[Event]) -> Made:
    made = {one.cut: one for one in history_of(events).made}
    if cut not in made:
        known = ", ".join(made) or "none"
        raise InputAtFault(
            f"{record_path(job)}: {cut} is not among the cuts that are done ({known}); name one of those"
        )
    return made[cut]


def keep_plan(job: Where, journal: JournalFile, begun: GoneOn) -> None:
    """Record the plan that is cut by from now on, where any cloth is cut already."""
    with _in_words(job):
        if history_of(journal.events).is_begun:
            note_plan(journal, begun)


@contextmanager
def _in_words(job: Where) -> Iterator[None]:
    path = record_path(job)
    try:
        yield
    except BadLine as bad:
        raise InputAtFault(
            f"{path}:{bad.line}:1: record of cuts: {bad.what}; see all that is known with: lightchalk status "
            f"{with_cloth(job)}"
            if bad.is_of_a_record
            else f"{path}:1:1: record of cuts: {bad.what}; move it away"
        ) from None
    except AlreadyOpen as held:
        who = f" ({held.holder})" if held.holder else ""
        raise InputAtFault(
            f"{path}: another session is cutting this job{who}; leave that one first (Esc), "
            "or end its process where its window is gone: every tick is kept"
        ) from None
    except CannotRecord as refused:
        raise InputAtFault(f"{path}: {refused.reason}, so ticks could not be kept; {refused.advice} first") from None
    except StrangeFile as strange:
        raise InputAtFault(f"{path}: {strange.strerror}, which is left alone; {strange.advice}") from None
    except OSError as refused:
        raise InputAtFault(f"{path}: cannot be read ({refused.strerror}); see who may read it") from None
