"""Ticks into the journal beside the job."""

from __future__ import annotations

from collections.abc import Callable

from jobs.journal.events import DONE, UNDONE, fingerprint
from jobs.journal.file import JournalFile
from jobs.plan import Plan
from projector.session.state import Done, Undone

Record = Callable[[Done | Undone], None]
"""Writes a tick, or one taken back, so that a power cut cannot lose it; raises CannotRecord or OSError."""


def recording_in(journal: JournalFile, plan: Plan) -> Record:
    """A record that appends to ``journal`` under the fingerprint of ``plan``."""
    mark = fingerprint(plan)

    def record(event: Done | Undone) -> None:
        journal.append(DONE if isinstance(event, Done) else UNDONE, event.cut, mark)

    return record


def not_kept(event: Done | Undone) -> None:
    """A record that keeps nothing: for the demo, where no cloth is cut."""
