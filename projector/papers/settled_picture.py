"""How far the light has moved since it was calibrated: an arrow at each place, drawn far longer, and how far it is."""

from __future__ import annotations

import math
import textwrap

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.settling import MOVES_IN, Settled
from calibration.table import Table
from projector.papers.drawing import INK, PAPER, QUIET, WARNING, Anchor, Drawing, Path, Point, Shape, Words
from projector.words.measures import format_length

WIDTH, EDGE, HEAD, LETTERS = 9.0, 0.5, 1.15, 0.13
STILL = "#0d5c57"
LONGEST = 0.7
"""The longest arrow, drawing inches; of a light that has moved by less than is seen all arrows are short."""


def settled_picture(found: Settled, table: Table, said: str, unit: str = "in") -> Drawing:
    """The lit area as it lies before the person, who stands at the lower edge; ``said`` stands above it."""
    area = table.lit_area()
    low, high = area.min(axis=0), area.max(axis=0)
    scale = float((WIDTH - 2 * EDGE) / (high - low)[0])
    foot = HEAD + scale * float((high - low)[1])

    def at(x: float, y: float) -> Point:
        return EDGE + scale * (x - float(low[0])), foot - scale * (y - float(low[1]))

    shapes: list[Shape] = [
        Words(line, (EDGE, 0.3 + 0.25 * number), 0.16, INK) for number, line in enumerate(textwrap.wrap(said, 88))
    ]
    shapes.append(Path(tuple(at(x, y) for x, y in area.tolist()), stroke=INK, width=0.02, closed=True))
    longer = LONGEST / max(float(found.far_in.max()), MOVES_IN)
    for (x, y), (a, b), within in zip(
        found.places_in.tolist(), found.shift_in.tolist(), found.within_in.tolist(), strict=True
    ):
        moved = math.hypot(a, b) > max(within, MOVES_IN)
        start = at(x, y)
        shapes += _arrow(start, (start[0] + longer * a, start[1] - longer * b), WARNING if moved else STILL)
    for number in _at_corners(found.places_in):
        far = format_length(float(found.far_in[number]), unit)
        x, y = at(*found.places_in[number].tolist())
        said_there = Words(far, (x, y + 0.22), LETTERS, INK, Anchor.MIDDLE)
        left, upper, right, lower = (
            side + 0.05 * way for side, way in zip(said_there.box, (-1, -1, 1, 1), strict=True)
        )
        ground = ((left, upper), (right, upper), (right, lower), (left, lower))
        shapes += [Path(ground, fill=PAPER, closed=True), said_there]
    shapes.append(Words("arrows: where the light falls now, drawn far longer", (EDGE, foot + 0.3), LETTERS, QUIET))
    return Drawing(WIDTH, foot + 0.6, tuple(shapes), PAPER, "Has anything moved?")


def _at_corners(places_in: NDArray[np.float64]) -> list[int]:
    """Indices of the places (N, 2) nearest to the four corners: a figure at each, and no other stands in its way."""
    middle = places_in - (places_in.min(axis=0) + places_in.max(axis=0)) / 2
    return [int((middle @ (right, away)).argmax()) for right in (-1.0, 1.0) for away in (-1.0, 1.0)]


def _arrow(start: Point, end: Point, colour: str) -> list[Shape]:
    (x, y), (to_x, to_y) = start, end
    far = math.hypot(to_x - x, to_y - y)
    dot = Path(((x - 0.02, y), (x + 0.02, y)), stroke=colour, width=0.04)
    if far < 0.08:
        return [dot, Path((start, end), stroke=colour, width=0.02)]
    a, b = (to_x - x) / far, (to_y - y) / far
    tip = min(0.1, far / 2)
    sides = [(to_x - tip * (a - s * 0.5 * b), to_y - tip * (b + s * 0.5 * a)) for s in (1, -1)]
    return [dot, Path((start, end), stroke=colour, width=0.02), Path((sides[0], end, sides[1]), stroke=colour)]
