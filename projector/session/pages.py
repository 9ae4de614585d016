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
    IS_IT_CUT = "is it cut?"
    HELP = "help"
    REMAINING = "what is left"
    ALL_DONE = "all is cut"
    TROUBLE = "trouble"
    LEAVE = "leave?"
    LEFT = "left"


class Layer(StrEnum):
    """What can be hidden to see the cloth better."""

    ROWS = "rows and columns"
    MATCH_MARKS = "match marks"
    FOLDS = "fold lines"
    LETTERS = "letters"
