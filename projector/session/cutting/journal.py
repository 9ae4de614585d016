"""What is recorded of a session before it is shown, and what an earlier session's journal says of this one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from typing import Any

from calibration.moved import Move
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice, PrintPoint
from jobs.journal.events import DONE, REPLANNED, UNDONE, UNPLANNED
from jobs.journal.events import Event as Line
from jobs.journal.exact import exact
from jobs.journal.file import JournalFile
from jobs.journal.history import tick_values, ticks_counted
from jobs.journal.placed import fingerprint
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from jobs.planning.going_on import GoneOn, note_plan
from projector.session.cutting.orientation import Confirmed
from projector.session.cutting.registration.marking import Registered

REGISTERED, UNREGISTERED = "laid", "unlaid"
CONFIRMED, REOPENED = "way confirmed", "way asked again"
LIGHT_MOVED = "light moved"
"""How these are called in the journal."""
NUMBERS = ("turn_deg", "stretch_along", "stretch_across", "skew_in", "bow_in")
PUT_BACK = "the record of cuts was taken away: it was written anew, whole"


@dataclass(frozen=True)
class Done:
    """A cut was ticked."""

    cut: str


@dataclass(frozen=True)
class Undone:
    """The last tick was taken back."""

    cut: str


@dataclass(frozen=True)
class Corrected:
    """The light had moved and is put right for this session."""

    move: Move


@dataclass(frozen=True)
class RegistrationKept:
    """The light follows the cloth from now on."""

    registered: Registered


@dataclass(frozen=True)
class RegistrationUndone:
    """The last registration was taken back."""

    cut: str


@dataclass(frozen=True)
class WayConfirmed:
    """A person has seen which way a panel lies."""

    cut: str


@dataclass(frozen=True)
class WayReopened:
    """The last such confirmation is taken back."""

    cut: str


@dataclass(frozen=True)
class Replanned:
    """The plan is to be made anew with the repeat along as measured."""

    along: Fraction


@dataclass(frozen=True)
class PlanAsBefore:
    """The plan made anew is taken back."""


Event = (
    Done
    | Undone
    | Corrected
    | RegistrationKept
    | RegistrationUndone
    | WayConfirmed
    | WayReopened
    | Replanned
    | PlanAsBefore
)
"""What goes into the journal before anything of it is shown."""

Record = Callable[[Event], str | None]
"""Writes what happened so that a power cut cannot lose it; says in words what is to be known besides, if anything.

Raises CannotRecord, OSError.
"""


def recording_in(journal: JournalFile, plan: Plan, begun: GoneOn | None = None) -> Record:
    """A record that appends to ``journal`` under the fingerprint of ``plan``, which it notes before the first tick.

    ``begun`` tells what of the plan is cut already.
    """
    mark, going_on = fingerprint(plan), begun or GoneOn(plan)

    def record(event: Event) -> str | None:
        name, cut, more = as_written(event)
        if isinstance(event, Done):
            more = tick_values(plan, event.cut)
        before = journal.put_back
        if isinstance(event, Done | Undone):
            note_plan(journal, going_on)
        journal.append(name, cut, mark, **more)
        return PUT_BACK if journal.put_back > before else None

    return record


def not_kept(event: Event) -> None:
    """A record that keeps nothing: for the demo, where no cloth is cut."""


def as_written(event: Event) -> tuple[str, str | None, dict[str, Any]]:
    """How an event is called in the journal, the cut it is about, and what else is kept of it."""
    match event:
        case Done(cut):
            return DONE, cut, {}
        case Undone(cut):
            return UNDONE, cut, {}
        case Corrected(move):
            return LIGHT_MOVED, None, _of_move(move)
        case RegistrationKept(registered):
            return REGISTERED, registered.cut, values_of(registered)
        case RegistrationUndone(cut):
            return UNREGISTERED, cut, {}
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


def values_of(registered: Registered) -> dict[str, Any]:
    """What the journal keeps of a registration besides the cut: where the cloth lay, the points, the fit."""
    fit, lattice = registered.fit, registered.fit.lattice
    return {
        "piece": registered.piece,
        "at_left": str(registered.at_left),
        "points": [{"row": p.row, "column": p.column, "table": list(p.table_in)} for p in registered.points],
        "fit": {"shift": list(fit.shift), **{name: getattr(fit, name) for name in NUMBERS}},
        "repeat_in": [lattice.along_in, lattice.across_in],
    }


def registered_in(lines: Iterable[Line], lattices: Sequence[PrintLattice | None], plan: str) -> tuple[Registered, ...]:
    """The registrations that hold, of a plan with this fingerprint; one that cannot be read was never made."""
    found: list[Registered] = []
    for line, ticks in ticks_counted(lines):
        if line.event == REGISTERED and line.plan == plan:
            registered = _registered(line, lattices, ticks)
            found += [registered] if registered else []
        elif line.event == UNREGISTERED and line.plan == plan and found:
            found.pop()
    return tuple(found)


def _registered(line: Line, lattices: Sequence[PrintLattice | None], ticks: int) -> Registered | None:
    try:
        more = line.more
        piece = more["piece"]
        lattice = lattices[piece - 1] if type(piece) is int and piece > 0 else None
        if lattice is None or line.cut is None or [lattice.along_in, lattice.across_in] != more["repeat_in"]:
            return None
        x, y = more["fit"]["shift"]
        fit = PrintFit(lattice, (float(x), float(y)), **{name: float(more["fit"][name]) for name in NUMBERS})
        points = tuple(PrintPoint(p["row"], p["column"], tuple(p["table"])) for p in more["points"])
        return Registered(piece, line.cut, exact(more["at_left"]), fit, points, ticks)
    except (KeyError, TypeError, ValueError, IndexError, OverflowError):
        return None


def confirmed_in(lines: Iterable[Line], plan: str) -> tuple[Confirmed, ...]:
    """The confirmations in a journal that hold for the plan with this fingerprint, in their order."""
    found: list[Confirmed] = []
    registered = 0
    for line, ticks in ticks_counted(lines):
        if line.plan != plan:
            continue
        registered += {REGISTERED: 1, UNREGISTERED: -1}.get(line.event, 0)
        if line.event == CONFIRMED and line.cut is not None:
            found.append(Confirmed(line.cut, ticks, max(registered, 0)))
        elif line.event == REOPENED and found:
            found.pop()
    return tuple(found)
