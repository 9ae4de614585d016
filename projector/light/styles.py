"""How each kind of mark looks: width and line type in inches on the table, and colour.

Every kind of line has a line type and width of its own, so that none needs its colour to be known. Colours are those
of M. Okabe and K. Ito, which most eyes tell apart (values as given by B. Wong, Nature Methods 8, 2011), white, and some
that are tried where these do not show.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from projector.scene.marks import Kind

WHITE = 0xFFFFFF
ORANGE = 0xE69F00
SKY_BLUE = 0x56B4E9
BLUISH_GREEN = 0x009E73
YELLOW = 0xF0E442
BLUE = 0x0072B2
VERMILLION = 0xD55E00
REDDISH_PURPLE = 0xCC79A7


@dataclass(frozen=True)
class Style:
    """Width of a line in inches, lengths lit and dark by turns in inches (none: unbroken), colour 0xRRGGBB."""

    width_in: float
    dashes_in: tuple[float, ...] = ()
    colour: int = WHITE

    def __post_init__(self) -> None:
        if not self.width_in > 0:
            raise ValueError("a line needs a width above zero")
        if len(self.dashes_in) % 2 or any(not length > 0 for length in self.dashes_in):
            raise ValueError("dashes are pairs of lengths, lit and dark, each above zero")
        if not 0 <= self.colour <= 0xFFFFFF:
            raise ValueError("a colour is a number from 0x000000 to 0xffffff")


STYLES: Mapping[Kind, Style] = {
    Kind.CUT: Style(3 / 32, (), YELLOW),
    Kind.CUT_DOUBTFUL: Style(3 / 32, (1 / 2, 1 / 2), YELLOW),
    Kind.ROW: Style(1 / 16, (3 / 32, 9 / 32), BLUISH_GREEN),
    Kind.COLUMN: Style(1 / 16, (3 / 32, 3 / 32, 3 / 32, 15 / 32), SKY_BLUE),
    Kind.CROSSING: Style(3 / 64, (), SKY_BLUE),
    Kind.MATCH: Style(5 / 64, (), REDDISH_PURPLE),
    Kind.TRIM: Style(1 / 16, (1 + 1 / 2, 1 / 2), ORANGE),
    Kind.FOLD: Style(1 / 16, (1 + 1 / 4, 1 / 4, 1 / 4, 1 / 4), REDDISH_PURPLE),
    Kind.STIFFENER: Style(1 / 16, (1, 1 / 4, 3 / 32, 1 / 4, 3 / 32, 1 / 4), REDDISH_PURPLE),
    Kind.PIN: Style(1 / 16, (), REDDISH_PURPLE),
    Kind.TOP: Style(5 / 64, (), WHITE),
    Kind.FLAW: Style(1 / 16, (), VERMILLION),
    Kind.DONE: Style(3 / 64, (), BLUE),
    Kind.LEFTOVER: Style(1 / 16, (3 / 4, 1 / 4), BLUISH_GREEN),
    Kind.LETTER: Style(1 / 16, (), WHITE),
    Kind.GUIDE: Style(3 / 64, (1 / 4, 1 / 4), WHITE),
    Kind.TARGET: Style(3 / 64, (), WHITE),
}


def recoloured(styles: Mapping[Kind, Style], colours: Mapping[Kind, int]) -> dict[Kind, Style]:
    """The same styles with other colours for some kinds."""
    return {kind: replace(style, colour=colours.get(kind, style.colour)) for kind, style in styles.items()}


def letter_colour(styles: Mapping[Kind, Style]) -> int:
    """The colour of all letters, whatever they belong to: what is to be read is lit in what reads best."""
    return styles[Kind.LETTER].colour


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
