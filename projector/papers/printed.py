"""The print of a cloth in a drawing: its shapes where it is drawn, its pixels where it was photographed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from projector.papers.clip import clipped
from projector.papers.drawing import Path, Point
from projector.papers.inks import GLOW
from projector.prints.face import Face

Span = tuple[float, float]

PIXELS_PER_INCH = 200
"""Of a drawing: as fine as a printer shows."""


def printed_shapes(
    face: Face, first_row: float, along: Span, across: Span, place: Callable[[float, float], Point]
) -> Iterator[Path]:
    """The shapes of a drawn print on a rectangle of the piece, cut off at its sides; the ground is not among them.

    ``first_row``, ``along`` and ``across`` are inches from the first end and the near selvedge; ``place`` gives the
    place on the drawing of a place along and across, axes kept level and upright.
    """
    corners = [place(a, c) for a in along for c in across]
    (left, *_, right), (upper, *_, lower) = (sorted(side) for side in zip(*corners, strict=True))
    for shape in face.shapes_between((along[0] - first_row, along[1] - first_row), across):
        points = clipped(tuple(place(a + first_row, c) for a, c in shape.points), left, upper, right, lower)
        if len(points) > 2:
            yield Path(points, fill=shape.colour, closed=True)


def seen_on_print(line: Path) -> tuple[Path, Path]:
    """A line with a pale one twice as wide under it, so that it is seen on dark cloth and on light."""
    return replace(line, stroke=GLOW, width=max(2 * line.width, line.width + 0.02), fill=None, dash=()), line
