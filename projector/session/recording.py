"""Ticks into the journal beside the job."""

from __future__ import annotations

from collections.abc import Callable

from jobs.journal.events import DONE, REPLANNED, UNDONE, fingerprint
from jobs.journal.file import JournalFile
from jobs.plan import Plan
from projector.session.laying.recorded import LAID, UNLAID, values_of
from projector.session.state import Corrected, Done, LaidEvent, Replanned, Undone, UnlaidEvent

LIGHT_MOVED = "light moved"
"""How a correction of the light is called in the journal."""

Recorded = Done | Undone | Corrected | LaidEvent | UnlaidEvent | Replanned
Record = Callable[[Recorded], None]
"""Writes a tick, a laying, one taken back, or a correction, so that a power cut cannot lose it.

Raises CannotRecord, OSError.
"""


def recording_in(journal: JournalFile, plan: Plan) -> Record:
    """A record that appends to ``journal`` under the fingerprint of ``plan``."""
    mark = fingerprint(plan)

    def record(event: Recorded) -> None:
        if isinstance(event, Corrected):
            move = event.move
            shift_in, misses_in = list(move.shift_in), list(move.misses_in)
            journal.append(
                LIGHT_MOVED,
                None,
                mark,
                mend=move.mend.value,
                shift_in=shift_in,
                turn_deg=move.turn_deg,
                about_in=list(move.about_in),
                misses_in=misses_in,
            )
            return
        if isinstance(event, LaidEvent):
            journal.append(LAID, event.laid.cut, mark, **values_of(event.laid))
            return
        if isinstance(event, UnlaidEvent):
            journal.append(UNLAID, event.cut, mark)
            return
        if isinstance(event, Replanned):
            journal.append(REPLANNED, None, mark, along=str(event.along))
            return
        journal.append(DONE if isinstance(event, Done) else UNDONE, event.cut, mark)

    return record


def not_kept(event: Recorded) -> None:
    """A record that keeps nothing: for the demo, where no cloth is cut."""
