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
PALE = (0x80FFFF, 0xFF80FF, 0x80FF80, 0xFFFF80, 0xFFC080, 0x80C0FF)
"""Colours with half of white's value in what they lack: they have a hue and keep most of its light."""
UNUSUAL = frozenset((*FULL, *PALE))
CANDIDATES = (WHITE, *(colour for colour in OKABE_ITO if colour != WHITE), *FULL, *PALE)

CUTS, LETTERS = "cut lines", "TOP, letters, questions"
GROUPS: Mapping[str, tuple[Kind, ...]] = {
    CUTS: (Kind.CUT, Kind.CUT_DOUBTFUL),
    LETTERS: (Kind.TOP, Kind.LETTER, Kind.GUIDE, Kind.TARGET),
    "flaws": (Kind.FLAW,),
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
    0x00FFFF: "full cyan",
    0xFF00FF: "full magenta",
    0x00FF00: "full green",
    0xFF0000: "full red",
    0x0000FF: "full blue",
    0xFFFF00: "full yellow",
    0x80FFFF: "pale cyan",
    0xFF80FF: "pale magenta",
    0x80FF80: "pale green",
    0xFFFF80: "pale yellow",
    0xFFC080: "pale orange",
    0x80C0FF: "pale blue",
}


def name_of_colour(colour: int) -> str:
    """What a colour of light is called."""
    return _NAMES.get(colour, "another colour")
