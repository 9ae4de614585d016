"""Sets of colours that the colour key steps through; the first is the usual one. Line types never change."""

from __future__ import annotations

from collections.abc import Mapping

from projector.light.looks import (
    BLUISH_GREEN,
    LOOKS,
    ORANGE,
    REDDISH_PURPLE,
    SKY_BLUE,
    WHITE,
    YELLOW,
    Look,
    recoloured,
)
from projector.scene.marks import Kind


def _with_cut(colour: int, rest: int) -> dict[Kind, int]:
    return {**dict.fromkeys(Kind, rest), Kind.CUT: colour, Kind.TOP: colour}


SETS: tuple[Mapping[Kind, int], ...] = (
    {},
    dict.fromkeys(Kind, WHITE),
    _with_cut(ORANGE, SKY_BLUE),
    _with_cut(SKY_BLUE, YELLOW),
    _with_cut(REDDISH_PURPLE, BLUISH_GREEN),
)


def looks_for(presses: int) -> Mapping[Kind, Look]:
    """The looks after so many presses of the colour key; after the last set comes the first."""
    return recoloured(LOOKS, SETS[presses % len(SETS)])
