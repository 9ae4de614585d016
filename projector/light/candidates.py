"""Colours of light that are considered for a cloth, what they are called, and which kinds of mark share one."""

from __future__ import annotations

from collections.abc import Mapping

from projector.light.looks import (
    BLUE,
    BLUISH_GREEN,
    ORANGE,
    REDDISH_PURPLE,
    SKY_BLUE,
    VERMILLION,
    WHITE,
    YELLOW,
)
from projector.scene.marks import Kind

OKABE_ITO = (ORANGE, SKY_BLUE, BLUISH_GREEN, YELLOW, BLUE, VERMILLION, REDDISH_PURPLE, WHITE)
FULL = (0x00FFFF, 0xFF00FF, 0x00FF00, 0xFF0000, 0x0000FF, 0xFFFF00)
BLACK = 0x000000

GROUPS: Mapping[str, tuple[Kind, ...]] = {
    "cut lines, TOP, letters": (Kind.CUT, Kind.TOP, Kind.LETTER, Kind.GUIDE, Kind.TARGET),
    "doubtful cuts, flaws": (Kind.CUT_DOUBTFUL, Kind.FLAW),
    "match marks, folds": (Kind.MATCH, Kind.FOLD, Kind.STIFFENER, Kind.PIN),
    "rows, columns": (Kind.ROW, Kind.COLUMN, Kind.CROSSING),
    "trims, leftovers, done": (Kind.TRIM, Kind.LEFTOVER, Kind.DONE),
}
"""Kinds that share a colour (their line types differ), the most needed first."""

_NAMES: Mapping[int, str] = {
    WHITE: "white",
    ORANGE: "orange",
    SKY_BLUE: "sky blue",
    BLUISH_GREEN: "bluish green",
    YELLOW: "yellow",
    BLUE: "blue",
    VERMILLION: "vermillion",
    REDDISH_PURPLE: "reddish purple",
    BLACK: "dark",
    0x00FFFF: "full cyan",
    0xFF00FF: "full magenta",
    0x00FF00: "full green",
    0xFF0000: "full red",
    0x0000FF: "full blue",
    0xFFFF00: "full yellow",
}


def name_of_colour(colour: int) -> str:
    """What a colour of light is called."""
    return _NAMES.get(colour, "another colour")
