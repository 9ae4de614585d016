"""The words of what is told of cuts that are made already, and of changes with which a job needs less cloth."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import Any

from jobs.cutting.hands import OTHER
from jobs.model.choices import Unit
from jobs.model.cuts import Hand
from jobs.model.lengths import show_cut, show_length, show_order
from jobs.model.plan import Plan
from jobs.model.problems import Code, Problem

MOST_NAMED = 3
_OF_WINDOWS: dict[StrEnum, str] = {
    Code.CUT_WINDOW_RENAMED: "{window} is taken to be called {name} now: what is cut for it is kept for that.",
    Code.CUT_SPARE_NO_WINDOW: "{cut} is cut already, and the job has no such window any more: it is kept as a spare.",
    Code.CUT_SPARE_NOT_ASKED: "{cut} is cut already, and the job asks for no such cut any more: it is kept as a spare.",
}
_WHERE = {"top": "top", "foot": "foot", "returning": "return edge"}


def note_lines(notes: Iterable[Problem], unit: Unit) -> tuple[str, ...]:
    """A sentence for each thing that is told, one for all cuts of which the same is said."""
    lines: list[str] = []
    of: dict[str, list[str]] = {}
    for note in notes:
        if note.code is Code.CUT_PANELS_CHANGED:
            lines.append(_changed(note))
        elif note.code in _OF_WINDOWS:
            lines.append(_OF_WINDOWS[note.code].format(**dict(note.values)))
        else:
            of.setdefault(_of_a_cut(note, unit), []).append(str(note.value("cut")))
    for what, names in of.items():
        more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
        lines.append(f"{'; '.join(names[:MOST_NAMED])}{more}: {what}.")
    return tuple(lines)


def _changed(note: Problem) -> str:
    """The panels of a window have changed places: what becomes of those that are cut."""
    said: dict[str, Any] = dict(note.values)
    places = [f"what was cut as its {hand} panel hangs at the {OTHER[hand]}" for hand in map(Hand, said["hands"])]
    return (
        f"{said['window']} looks the other way now: {' and '.join(places)}, with the edge that led as its return edge. "
        "Mark it anew."
    )


def _of_a_cut(note: Problem, unit: Unit) -> str:
    said: dict[str, Any] = dict(note.values)
    match note.code:
        case Code.CUT_TO_TRIM:
            trims = [f"{show_cut(said[key], unit)} at the {where}" for key, where in _WHERE.items() if key in said]
            return f"cut longer than the job now asks for: trim {' and '.join(trims)}"
        case Code.CUT_OTHER_TURNINGS:
            heading, hem = show_length(said["heading"], unit), show_length(said["hem"], unit)
            return f"cut with a heading of {heading} and a hem of {hem}: sew with these"
    off = show_length(said["off"], unit)
    return f"cut {off} off the rows that the job has now: look where the rows lie, and match the next cut to them"


_UNMET: dict[StrEnum, str] = {
    Code.WISH_FOR_NO_CUT: "there is no such cut",
    Code.WISH_FOR_NO_PIECE: "there is no piece {piece}",
    Code.WISH_FOUND_NO_PLACE: "on piece {piece} no place is long enough, on its rows and free of flaws and of other "
    "cuts",
    Code.WISH_FROM_ANOTHER_LOT: "piece {piece} is of another dye lot than what its window is cut from",
    Code.WISH_LEAVES_NO_ROOM: "on piece {piece} it would leave no room for the other cuts",
}


def unmet_lines(plan: Plan) -> tuple[str, ...]:
    """A sentence for each cut that does not lie where the job wishes it."""
    return tuple(_unmet(one, plan) for one in plan.unmet)


def _unmet(one: Problem, plan: Plan) -> str:
    _, number, _, at = one.path
    window = plan.job.windows[int(number)]
    place = window.places[int(at)]
    cut = f", cut {place.cut}" if place.cut > 1 else ""
    why = _UNMET[one.code].format(**dict(one.values))
    counted = window.made is not None and window.made.copy and place.cut <= window.made.copies
    name = window.name if counted else f"{window.name}, {place.panel}{cut}"
    return f"{name}: it cannot lie near {show_cut(place.near, plan.job.unit)}, for {why}."


def change_words(change: Problem, unit: Unit) -> str:
    """What is changed in a job so that it needs less cloth."""
    said: dict[str, Any] = dict(change.values)
    match change.code:
        case Code.ROWS_MOVED:
            way = "lower" if said["down"] > 0 else "higher"
            return f"let every row hang {show_length(abs(said['down']), unit)} {way}"
        case Code.PAIR_MIRRORED:
            return f"hang {said['window']} as a mirrored pair, its right panel turned"
        case Code.RUN_SIDEWAYS:
            return "run the cloth sideways (`run: sideways`), its selvedges along top and foot and no panel with a seam"
        case Code.SHALLOWER:
            left, now = show_length(said["left"], unit), show_length(said["now"], unit)
            return f"make the {change.path[-1]} {left} instead of {now}"
    bought = show_order(said["length"], unit, said["sold_by"])
    return f"buy one more piece of {bought}, a little more if no row lies at its first end"
