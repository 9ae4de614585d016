"""Layings in the journal: written as plain values, and read back in the order they were made."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice, PrintPoint
from jobs.journal.events import Event
from jobs.journal.exact import exact
from jobs.journal.history import ticks_counted
from projector.session.state.laid import Laid

LAID, UNLAID = "laid", "unlaid"
NUMBERS = ("turn_deg", "stretch_along", "stretch_across", "skew_in", "bow_in")


def values_of(laid: Laid) -> dict[str, Any]:
    """What the journal keeps of a laying besides the cut: where the cloth lay, the points, the fit."""
    fit, lattice = laid.fit, laid.fit.lattice
    return {
        "piece": laid.piece,
        "at_left": str(laid.at_left),
        "points": [{"row": p.row, "column": p.column, "table": list(p.table_in)} for p in laid.points],
        "fit": {"shift": list(fit.shift), **{name: getattr(fit, name) for name in NUMBERS}},
        "repeat_in": [lattice.along_in, lattice.across_in],
    }


def layings_in(events: Iterable[Event], lattices: Sequence[PrintLattice | None], plan: str) -> tuple[Laid, ...]:
    """The layings that hold, of a plan with this fingerprint; one that cannot be read is as if it had not been made."""
    found: list[Laid] = []
    for event, ticks in ticks_counted(events):
        if event.event == LAID and event.plan == plan:
            laid = _laid(event, lattices, ticks)
            found += [laid] if laid else []
        elif event.event == UNLAID and event.plan == plan and found:
            found.pop()
    return tuple(found)


def _laid(event: Event, lattices: Sequence[PrintLattice | None], ticks: int) -> Laid | None:
    try:
        more = event.more
        piece = more["piece"]
        lattice = lattices[piece - 1] if type(piece) is int and piece > 0 else None
        if lattice is None or event.cut is None or [lattice.along_in, lattice.across_in] != more["repeat_in"]:
            return None
        x, y = more["fit"]["shift"]
        fit = PrintFit(lattice, (float(x), float(y)), **{name: float(more["fit"][name]) for name in NUMBERS})
        points = tuple(PrintPoint(p["row"], p["column"], tuple(p["table"])) for p in more["points"])
        return Laid(piece, event.cut, exact(more["at_left"]), fit, points, ticks)
    except (KeyError, TypeError, ValueError, IndexError, OverflowError):
        return None
