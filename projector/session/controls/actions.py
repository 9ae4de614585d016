"""What a person can ask of the session, in plain words, whatever key, remote or pedal it came from."""

from __future__ import annotations

from enum import StrEnum


class Action(StrEnum):
    """One request; which key makes it is a table in ``projector.session.controls.keys``."""

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
    BENCH = "bench screen in place of the light"
    LAY = "lay the cloth: mark motif points"
    REPLAN = "plan anew with the repeat as measured"
    HELP = "help"
    LEGEND = "what the lines mean"
    REMAINING = "what is to do"
    LEAVE = "leave"
    ANY_OTHER = "a key without a meaning"


NUDGES_64THS: dict[Action, tuple[int, int]] = {
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

TURNS: dict[Action, int] = {Action.TURN_LEFT: 1, Action.TURN_RIGHT: -1}
"""How far each turn goes, in steps of 0.05 degree, counter-clockwise positive."""
