"""How each kind of mark looks: width and line type in inches on the table, and colour.

Every kind of line has a line type and width of its own, so that none needs its colour to be known. Colours are those
of M. Okabe and K. Ito, which most eyes tell apart (values as given by B. Wong, Nature Methods 8, 2011), and white.
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
class Look:
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


LOOKS: Mapping[Kind, Look] = {
    Kind.CUT: Look(3 / 32, (), YELLOW),
    Kind.CUT_DOUBTFUL: Look(3 / 32, (1 / 2, 1 / 2), YELLOW),
    Kind.ROW: Look(1 / 16, (3 / 32, 9 / 32), BLUISH_GREEN),
    Kind.COLUMN: Look(1 / 16, (3 / 32, 3 / 32, 3 / 32, 15 / 32), SKY_BLUE),
    Kind.CROSSING: Look(3 / 64, (), SKY_BLUE),
    Kind.MATCH: Look(5 / 64, (), REDDISH_PURPLE),
    Kind.TRIM: Look(1 / 16, (1 + 1 / 2, 1 / 2), ORANGE),
    Kind.FOLD: Look(1 / 16, (1 + 1 / 4, 1 / 4, 1 / 4, 1 / 4), REDDISH_PURPLE),
    Kind.STIFFENER: Look(1 / 16, (1, 1 / 4, 3 / 32, 1 / 4, 3 / 32, 1 / 4), REDDISH_PURPLE),
    Kind.PIN: Look(1 / 16, (), REDDISH_PURPLE),
    Kind.TOP: Look(5 / 64, (), WHITE),
    Kind.FLAW: Look(1 / 16, (), VERMILLION),
    Kind.DONE: Look(3 / 64, (), BLUE),
    Kind.LEFTOVER: Look(1 / 16, (3 / 4, 1 / 4), BLUISH_GREEN),
    Kind.LETTER: Look(1 / 16, (), WHITE),
    Kind.GUIDE: Look(3 / 64, (1 / 4, 1 / 4), WHITE),
    Kind.TARGET: Look(3 / 64, (), WHITE),
}


def recoloured(looks: Mapping[Kind, Look], colours: Mapping[Kind, int]) -> dict[Kind, Look]:
    """The same looks with other colours for some kinds."""
    return {kind: replace(look, colour=colours.get(kind, look.colour)) for kind, look in looks.items()}


def letter_colour(looks: Mapping[Kind, Look]) -> int:
    """The colour of all letters, whatever they belong to: what is to be read is lit in what reads best."""
    return looks[Kind.LETTER].colour
