"""What can be lit: the pages of a session, and the layers of a stop that each have a key."""

from __future__ import annotations

from enum import StrEnum


class Page(StrEnum):
    """What is lit: the stop itself, or words instead of it or over it."""

    CAUTIONS = "cautions"
    MEETING = "has anything moved?"
    MOVING = "move the light onto the mark"
    MOVED = "how it has moved"
    STOP = "stop"
    LAYING = "mark motif points"
    LAID = "how the cloth lies"
    WHICH_WAY = "which way does the panel lie?"
    IS_IT_CUT = "is it cut?"
    NOT_CUT = "not cut after all?"
    HELP = "help"
    LEGEND = "what the lines mean"
    REMAINING = "what is to do"
    ALL_DONE = "all is cut"
    PLAN_AS_BEFORE = "plan as before?"
    TROUBLE = "trouble"
    LEAVE = "leave?"
    LEFT = "left"


class Layer(StrEnum):
    """What can be hidden to see the cloth better."""

    CUT_LINES = "cut lines"
    ROWS = "rows and columns"
    MATCH_MARKS = "match marks"
    TRIMS = "trim lines"
    FOLDS = "fold lines"
    PINS = "pin places"
    LETTERS = "letters"
