"""What a person can ask for at the table: values of one set, from a key, click, remote, pedal or another process.

An action has a name (``written``) by which a keys file and other processes know it, and ``parse`` reads it back:
``next stop``, ``light far left``, ``point 812.5 301``, ``choose 3``, ``type 60 1/4``. What it does depends on the work
in hand and is told by that work's reducer alone.
"""

from __future__ import annotations

import math
from enum import StrEnum

from jobs.model.records import dataclass


class Action(StrEnum):
    """One request without a value, with what it means; which key makes it is a table in ``projector.session.keys``."""

    NEXT_STOP = "next stop"
    PREVIOUS_STOP = "previous stop"
    NEXT_CUT = "next cut, this one not yet cut"
    CUT_DONE = "cut is done"
    UNDO = "take back the last thing done"
    LIGHT_LEFT = "move the light left 1/16 in"
    LIGHT_RIGHT = "move the light right 1/16 in"
    LIGHT_AWAY = "move the light away 1/16 in"
    LIGHT_NEARER = "move the light nearer 1/16 in"
    LIGHT_FAR_LEFT = "move the light left 1/2 in"
    LIGHT_FAR_RIGHT = "move the light right 1/2 in"
    LIGHT_FAR_AWAY = "move the light away 1/2 in"
    LIGHT_FAR_NEARER = "move the light nearer 1/2 in"
    LIGHT_HAIR_LEFT = "move the light left 1/64 in"
    LIGHT_HAIR_RIGHT = "move the light right 1/64 in"
    LIGHT_HAIR_AWAY = "move the light away 1/64 in"
    LIGHT_HAIR_NEARER = "move the light nearer 1/64 in"
    TURN_LEFT = "turn the light left 0.05 degree"
    TURN_RIGHT = "turn the light right 0.05 degree"
    LIGHT_BACK = "put the light back where it was"
    CUT_LINES = "cut lines on or off"
    ROWS = "rows and columns on or off"
    MATCH_MARKS = "match marks on or off"
    TRIMS = "trim lines on or off"
    FOLDS = "fold lines on or off"
    PINS = "pin places on or off"
    LETTERS = "letters on or off"
    COLOURS = "next colours"
    WIDER = "wider lines"
    THINNER = "thinner lines"
    PULLED = "the cloth lies as asked"
    DARK = "dark"
    LAY = "lay the cloth: mark motif points"
    REPLAN = "plan anew with the repeat as measured"
    HELP = "help"
    LEGEND = "what the lines mean"
    REMAINING = "what is to do"
    LEAVE = "leave"
    ENTER = "it lies right, or what was typed is meant"
    RUB_OUT = "rub out the last letter typed"
    CHOOSE_BEFORE = "the one before"
    CHOOSE_AFTER = "the one after"
    AGAIN = "this one again"
    ADD_MARK = "add a mark"
    ADD_CHECK = "add a check mark"
    TURN_CHECK = "check mark or mark for the fit"
    PUT_RIGHT = "put it right as offered"
    DROP = "do without this one"
    PHOTOGRAPH = "light the pattern for photographs"
    SAVE = "save"
    ANY_OTHER = "a key without a meaning"


@dataclass(frozen=True)
class Typed:
    """Letters typed, as they are."""

    text: str


@dataclass(frozen=True)
class Chosen:
    """The one of that number, from 1."""

    number: int


@dataclass(frozen=True)
class Pointed:
    """A place of the frame pointed at, (u, v) pixels; the middle of the upper left one is (0.5, 0.5)."""

    pixel: tuple[float, float]


@dataclass(frozen=True)
class Lies:
    """The print lies as a photograph shows it that was taken at this stop, counted from 1.

    ``record`` as ``calibration.registration.record`` writes it. ``row_open``: which row is which was not to be seen.
    """

    stop: int
    record: str
    row_open: bool = True


@dataclass(frozen=True)
class Match:
    """How the mates of this stop's cut match its panel, as a photograph shows: each by its name, with how many 64ths of
    an inch further right its light is to lie when it is cut, 0 where it is cut as planned."""

    stop: int
    mates: tuple[tuple[str, int], ...]


ROW_OPEN, ROW_SEEN = "row-open", "row-seen"
AnyAction = Action | Typed | Chosen | Pointed | Lies | Match
"""Whatever can be asked for."""
Offers = tuple[tuple[str, AnyAction], ...]
"""What is offered, in few words, and what each asks for; the first one goes on."""


class UnknownAction(ValueError):  # noqa: N818
    """There is no action of that name."""


def written(action: AnyAction) -> str:
    """The name of an action: ``next stop``, ``light far left``, ``choose 3``, ``point 812.5 301``, ``type 60 1/4``."""
    match action:
        case Typed(text):
            return f"type {text}"
        case Chosen(number):
            return f"choose {number}"
        case Pointed((u, v)):
            return f"point {u!r} {v!r}"
        case Lies(stop, record, row_open):
            return f"lies {stop} {ROW_OPEN if row_open else ROW_SEEN} {record}"
        case Match(stop, mates):
            return " ".join((f"match {stop}", *(f"{cut}={right}" for cut, right in mates)))
    return action.name.lower().replace("_", " ")


_NAMED = {written(action): action for action in Action}


def parse(name: str) -> AnyAction:
    """The action of that name; raises UnknownAction, also for a number that is none."""
    verb, _, rest = name.partition(" ")
    try:
        match verb:
            case "type" if rest and rest.isprintable():
                return Typed(rest)
            case "choose" if rest.isascii() and rest.isdigit():
                return Chosen(int(rest))
            case "lies":
                stop, row, record = rest.split(" ", 2)
                if stop.isascii() and stop.isdigit() and row in (ROW_OPEN, ROW_SEEN):
                    return Lies(int(stop), record, row == ROW_OPEN)
            case "match":
                number, *mates = rest.split(" ")
                if number.isascii() and number.isdigit():
                    pairs = (one.rpartition("=") for one in mates)
                    return Match(int(number), tuple((_named(cut), int(right)) for cut, _, right in pairs))
            case "point":
                u, v = (float(part) for part in rest.split(" "))
                if math.isfinite(u) and math.isfinite(v):
                    return Pointed((u, v))
        return _NAMED[name]
    except (KeyError, ValueError):
        raise UnknownAction(name) from None


def _named(cut: str) -> str:
    if not cut:
        raise ValueError("a cut has a name")
    return cut


NUDGES_64THS: dict[AnyAction, tuple[int, int]] = {
    Action.LIGHT_LEFT: (-4, 0),
    Action.LIGHT_RIGHT: (4, 0),
    Action.LIGHT_AWAY: (0, 4),
    Action.LIGHT_NEARER: (0, -4),
    Action.LIGHT_FAR_LEFT: (-32, 0),
    Action.LIGHT_FAR_RIGHT: (32, 0),
    Action.LIGHT_FAR_AWAY: (0, 32),
    Action.LIGHT_FAR_NEARER: (0, -32),
    Action.LIGHT_HAIR_LEFT: (-1, 0),
    Action.LIGHT_HAIR_RIGHT: (1, 0),
    Action.LIGHT_HAIR_AWAY: (0, 1),
    Action.LIGHT_HAIR_NEARER: (0, -1),
}
"""How far each nudge moves the light, in 64ths of an inch: right along the table, away from the person."""

TURNS: dict[AnyAction, int] = {Action.TURN_LEFT: 1, Action.TURN_RIGHT: -1}
"""How far each turn goes, in steps of 0.05 degree, counter-clockwise positive."""

REPEATING = frozenset((*NUDGES_64THS, *TURNS))
"""What counts again and again while its key is held down."""
