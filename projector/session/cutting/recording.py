"""Ticks into the journal beside the job."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from calibration.moved import Move
from jobs.journal.events import DONE, REPLANNED, UNDONE, UNPLANNED, fingerprint
from jobs.journal.file import JournalFile
from jobs.journal.history import tick_values
from jobs.model.plan import Plan
from jobs.planning.going_on import GoneOn, note_plan
from projector.session.state.confirmed import CONFIRMED, REOPENED
from projector.session.state.events import (
    Corrected,
    Done,
    LaidEvent,
    PlanAsBefore,
    Recorded,
    Replanned,
    Undone,
    UnlaidEvent,
    WayConfirmed,
    WayReopened,
)
from projector.session.state.recorded import LAID, UNLAID, values_of
from projector.session.state.told import put_back_said

LIGHT_MOVED = "light moved"
"""How a correction of the light is called in the journal."""

Record = Callable[[Recorded], str | None]
"""Writes what happened so that a power cut cannot lose it; says in words what is to be known besides, if anything.

Raises CannotRecord, OSError.
"""


def recording_in(journal: JournalFile, plan: Plan, begun: GoneOn | None = None) -> Record:
    """A record that appends to ``journal`` under the fingerprint of ``plan``, which it notes before the first tick.

    ``begun`` tells what of the plan is cut already.
    """
    mark, going_on = fingerprint(plan), begun or GoneOn(plan)

    def record(event: Recorded) -> str | None:
        name, cut, more = as_written(event)
        if isinstance(event, Done):
            more = tick_values(plan, event.cut)
        before = journal.put_back
        if isinstance(event, Done | Undone):
            note_plan(journal, going_on)
        journal.append(name, cut, mark, **more)
        return put_back_said() if journal.put_back > before else None

    return record


def as_written(event: Recorded) -> tuple[str, str | None, dict[str, Any]]:
    """How an event is called in the journal, the cut it is about, and what else is kept of it."""
    match event:
        case Done(cut):
            return DONE, cut, {}
        case Undone(cut):
            return UNDONE, cut, {}
        case Corrected(move):
            return LIGHT_MOVED, None, _of_move(move)
        case LaidEvent(laid):
            return LAID, laid.cut, values_of(laid)
        case UnlaidEvent(cut):
            return UNLAID, cut, {}
        case WayConfirmed(cut):
            return CONFIRMED, cut, {}
        case WayReopened(cut):
            return REOPENED, cut, {}
        case Replanned(along):
            return REPLANNED, None, {"along": str(along)}
        case PlanAsBefore():
            return UNPLANNED, None, {}


def _of_move(move: Move) -> dict[str, Any]:
    return {
        "mend": move.mend.value,
        "shift_in": list(move.shift_in),
        "turn_deg": move.turn_deg,
        "about_in": list(move.about_in),
        "misses_in": list(move.misses_in),
    }


def not_kept(event: Recorded) -> None:
    """A record that keeps nothing: for the demo, where no cloth is cut."""
