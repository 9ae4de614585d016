"""The record of cuts beside a job, read or opened with every failure in words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path

from jobs.disk import StrangeFile
from jobs.journal.cannot import CannotRecord
from jobs.journal.events import (
    BadLine,
    Event,
    Journal,
    fingerprint,
    measured_repeat,
    of_another_plan,
    progress,
    since_replanned,
)
from jobs.journal.file import JournalFile, journal_path, mended, read_journal
from jobs.journal.lock import AlreadyOpen
from jobs.plan import Plan
from projector.commands.errors import InputAtFault


def done_cuts(job: Path, plan: Plan) -> tuple[str, ...]:
    """Ids of the cuts of the plan that are done, in the order they were cut; nothing is locked or changed."""
    return _done(job, plan, record_of(job).events)


def record_of(job: Path) -> Journal:
    """The record as it stands, also where lines of it are damaged; nothing is locked or changed."""
    with _in_words(job):
        return read_journal(journal_path(job))


def damage_in_words(job: Path, record: Journal) -> list[str]:
    """A line for each damaged line of the record."""
    path = journal_path(job)
    return [
        f"{path}:{bad.line}:1: record of cuts: {bad.what}, so what it told is not known; look at the cloth, then write "
        f"the record anew from all other lines with: lightchalk status {job} --mend"
        for bad in record.damaged
    ]


def mend_record(job: Path) -> Path:
    """Write the record anew without its damaged lines; the file beside it that holds it as it was."""
    with _in_words(job):
        return mended(journal_path(job))


def recorded_repeat(job: Path) -> Fraction | None:
    """The repeat along that the plan was made anew with at the table; None when it is as the job file says."""
    try:
        return measured_repeat(record_of(job).events)
    except ValueError as fault:
        raise InputAtFault(
            f"{journal_path(job)}: record of cuts: the measured repeat cannot be read ({fault}); move the file away"
        ) from None


@contextmanager
def open_record(job: Path, plan: Plan) -> Iterator[tuple[JournalFile, tuple[str, ...]]]:
    """The journal open for one session, and the cuts done so far."""
    with _in_words(job):
        journal = JournalFile(journal_path(job))
    with journal:
        yield journal, _done(job, plan, journal.events)


def _done(job: Path, plan: Plan, events: tuple[Event, ...]) -> tuple[str, ...]:
    done, events = progress(events), since_replanned(events)
    if done and of_another_plan(events, fingerprint(plan)):
        raise InputAtFault(
            f"{journal_path(job)}: cuts were ticked for another plan of this job ({len(done)} of them); "
            f"put the job file back as it was then, or, if it is new cloth, move {journal_path(job).name} away"
        )
    return done


@contextmanager
def _in_words(job: Path) -> Iterator[None]:
    path = journal_path(job)
    try:
        yield
    except BadLine as bad:
        raise InputAtFault(
            f"{path}:{bad.line}:1: record of cuts: {bad.what}; see all that is known with: lightchalk status {job}"
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
