"""The print of the simulated cloth, "Minnows on slate": small fish seen from above, swimming across the cloth.

Each fish is the same at both sides of its own long axis and has a head and a tail: turned half a turn, the cloth is
the mirror image of itself. The axis lies on the row, so rows are mirror lines. A fry half as large swims the same way
half a repeat further on, on the other mirror line.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from projector.simulated.brightness import linear_of

Point = tuple[float, float]
Texture = NDArray[np.float32]

GROUND = "#5a6672"
BODY = "#e8dcc0"
FINS = "#d9825b"
EYES = "#20262c"


@dataclass(frozen=True)
class Inks:
    """Colours of the print, ``#rrggbb``."""

    ground: str = GROUND
    body: str = BODY
    fins: str = FINS

    @staticmethod
    def of(ground: str, *motifs: str) -> Inks:
        """Of a cloth's ground and motif colours, as many as are known."""
        return Inks(ground, motifs[0], motifs[min(1, len(motifs) - 1)]) if motifs else Inks(ground)


SLATE = Inks()

FRY = 0.52
_OVERSAMPLE = 4

# One side of the fish: forward from the middle and out from the axis, in lengths of the fish.
_BACK = (
    (0.5, 0.0), (0.47, 0.045), (0.38, 0.09), (0.24, 0.125), (0.08, 0.125), (-0.1, 0.09), (-0.24, 0.045), (-0.3, 0.02),
    (-0.3, 0.0),
)  # fmt: skip
_TAIL = ((-0.28, 0.0), (-0.31, 0.03), (-0.42, 0.1), (-0.5, 0.13), (-0.46, 0.05), (-0.42, 0.0))
_FIN = ((0.2, 0.11), (0.12, 0.24), (0.02, 0.27), (0.06, 0.11))
_BAR = ((-0.02, 0.0), (0.03, 0.0), (0.01, 0.075), (-0.04, 0.075))
_EYE = ((0.4, 0.045), (0.425, 0.06), (0.41, 0.08), (0.38, 0.085), (0.36, 0.07), (0.375, 0.05))


def fish() -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Coloured polygons of one fish 1 long, (forward, out); forward is across the cloth, out along it."""
    halves = ((FINS, _TAIL), (FINS, _FIN), (BODY, _BACK), (FINS, _BAR), (EYES, _EYE))
    return tuple((colour, part) for colour, half in halves for part in (half, tuple((x, -y) for x, y in half)))


@lru_cache(maxsize=8)
def tile(along_in: float, across_in: float, px_per_in: float, inks: Inks = SLATE, *, dropped: bool = False) -> Texture:
    """One repeat of the print as linear reflectance (rows along, columns across, 3), the large fish at its middle.

    The fry lies between four of them; ``dropped``, for columns that lie at different heights, between two of its own.
    """
    rows, columns = max(8, round(along_in * px_per_in)), max(8, round(across_in * px_per_in))
    big = (columns * _OVERSAMPLE, rows * _OVERSAMPLE)
    picture = Image.new("RGB", big, inks.ground)
    draw = ImageDraw.Draw(picture)
    length = 0.62 * min(across_in, 1.6 * along_in)
    for size, at in ((length, (0.5, 0.5)), (length * FRY, (0.5 if dropped else 0.0, 0.0))):
        for shift_across in (0.0,) if dropped else (0.0, 1.0):
            for shift_along in (0.0, 1.0):
                if at == (0.5, 0.5) and (shift_across or shift_along):
                    continue
                _draw(draw, size, at[0] + shift_across, at[1] + shift_along, big, (across_in, along_in), inks)
    small = picture.resize((columns, rows), Image.Resampling.BOX)
    return linear_of(np.asarray(small))


def _draw(
    draw: ImageDraw.ImageDraw,
    size: float,
    across: float,
    along: float,
    big: tuple[int, int],
    repeat: tuple[float, float],
    inks: Inks,
) -> None:
    scale_x, scale_y = big[0] / repeat[0], big[1] / repeat[1]
    colours = {BODY: inks.body, FINS: inks.fins}
    for colour, part in fish():
        points = [(across * big[0] + x * size * scale_x, along * big[1] + y * size * scale_y) for x, y in part]
        draw.polygon(points, fill=colours.get(colour, colour))
