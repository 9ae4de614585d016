"""How far a job in a file is cut, read from the record that a session keeps beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from jobs.journal.cannot import CannotRecord
from jobs.journal.events import BadLine, measured_repeat
from jobs.journal.file import journal_path, read_journal
from jobs.journal.history import History, history_of
from jobs.model.job import Job
from jobs.model.problems import JobRefused
from jobs.planning.going_on import PlacesUnknown, go_on
from projector.words.told import note_lines
from projector.words.wording import Voice, sentence

DAMAGED = "Its record of cuts is damaged. Look at the cloth; the command status with --mend writes the record anew."


def how_far(job: Job, cuts: int, file: Path, cloth: str = "") -> dict[str, Any]:
    """The stage ``cuts``: how many of how many are ``done``, what is ``wrong`` with the record or the job, and the
    ``notes`` of what is cut.

    ``cuts`` is how many the job has while nothing of it is cut, ``cloth`` the short name of a further cloth of a job of
    several, which has a record of its own. The record is only read.
    """
    try:
        record = read_journal(journal_path(file, cloth))
        along = measured_repeat(record.events)
    except (BadLine, CannotRecord, OSError, ValueError):
        return _told(0, 0, DAMAGED)
    history = history_of(record.events)
    if record.damaged:
        return _told(len(history.made), 0, DAMAGED)
    if not history.is_begun:
        return _told(0, cuts)
    if along is not None and job.cloth.repeat is not None:
        job = replace(job, cloth=replace(job.cloth, repeat=replace(job.cloth.repeat, along=along)))
    return _gone_on(job, history)


def _gone_on(job: Job, history: History) -> dict[str, Any]:
    try:
        found = go_on(job, history)
    except JobRefused as refused:
        why = sentence(refused.problems[0], job.unit, Voice.FORM)
        return _told(len(history.made), 0, f"The job does not go with what is cut: {why}.")
    except PlacesUnknown:
        return _told(len(history.made), 0, "An older version ticked them, and the job is planned otherwise now.")
    short = "What is still to be cut does not fit beside what is cut." if found.plan.short else ""
    return _told(len(found.done), len(found.plan.cuts), short, note_lines(found.notes, job.unit))


def _told(done: int, of: int, wrong: str = "", notes: Sequence[str] = ()) -> dict[str, Any]:
    return {"stage": "cuts", "done": done, "of": of, "wrong": wrong, "notes": list(notes)}
