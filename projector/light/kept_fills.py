"""Filled outlines of the last frame as pixel values: those lit again as they were are not worked out again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from projector.light.encoding import Packed
from projector.light.palette import Palette
from projector.light.segments import Array

MOST_PX = 6_000_000
"""Pixels kept at most, 4 bytes each."""


@dataclass
class Kept:
    """What a fill of these ``points``, in this colour of this palette, lights.

    ``values`` (height, width) are there from the second frame on, for what moves is never lit twice alike; ``ready``
    once they hold what is lit.
    """

    points: Array
    colour: int
    palette: Palette
    values: Packed | None = None
    ready: bool = False

    def is_of(self, points: Array, colour: int, palette: Palette) -> bool:
        """Whether this is of these very points: held here, no others can have their place in memory."""
        return self.points is points and self.colour == colour and self.palette is palette


class KeptFills:
    """The fills of the last frame and of the one being drawn."""

    def __init__(self) -> None:
        self._last: dict[int, Kept] = {}
        self._now: dict[int, Kept] = {}
        self._count = 0

    def begin(self) -> None:
        """A frame begins: what was not lit in the last one is let go."""
        self._last, self._now, self._count = self._now, {}, 0

    def of(self, points: Array, colour: int, palette: Palette, shape: tuple[int, int]) -> Kept:
        """What is kept of a fill that covers so many rows and columns; not ready when it is to be drawn."""
        kept = self._last.get(id(points))
        if kept is None or not kept.is_of(points, colour, palette):
            kept = Kept(points, colour, palette)
        elif kept.values is None and self._count + shape[0] * shape[1] <= MOST_PX:
            kept = Kept(points, colour, palette, np.empty(shape, np.uint32))
        if kept.values is not None:
            self._count += kept.values.size
        self._now[id(points)] = kept
        return kept
