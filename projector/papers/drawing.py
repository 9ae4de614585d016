"""A drawing as data: shapes recorded in drawing inches (x right, y down, from the upper left corner), drawn later.

SVG, PDF and PNG are made from the same shapes. Here are also the colours of the papers, and polygons cut off at a
rectangle (Sutherland & Hodgman, "Reentrant polygon clipping", CACM 17, 1974).
"""

from __future__ import annotations

from enum import StrEnum

from jobs.model.records import dataclass
from projector.light.letters import text_width

INK = "#1d2430"
QUIET = "#66707c"
CLOTH = "#e9e4d8"
SELVEDGE = "#d3ccbb"
LEFT = "#cfe3ee"
RIGHT = "#f6dfc0"
WHOLE = "#dcebd5"
THING = "#ecdbe8"
WARNING = "#b3401f"
ROW = "#8a6d9c"
PAPER = "#fbf9f4"
GLOW = "#ffffff"
"""Beside dark lines that lie on a print, so that they are seen on any cloth."""


Point = tuple[float, float]


class Anchor(StrEnum):
    """Which part of a line of letters stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Path:
    """A polyline or, when ``closed``, a polygon; ``stroke`` and ``fill`` are colours such as ``#20304a`` or None.

    ``width`` and the lengths of ``dash`` (on, off, ...) are drawing inches.
    """

    points: tuple[Point, ...]
    stroke: str | None = None
    width: float = 0.02
    fill: str | None = None
    closed: bool = False
    dash: tuple[float, ...] = ()


@dataclass(frozen=True)
class Words:
    """One line of letters: ``at`` lies on the middle of the cap height, ``height`` is the cap height in inches.

    ``upwards`` turns the line a quarter counter-clockwise, so that it reads from below to above.
    """

    text: str
    at: Point
    height: float
    colour: str = "#1d2430"
    anchor: Anchor = Anchor.START
    upwards: bool = False

    @property
    def length(self) -> float:
        """How long the line is, in drawing inches."""
        return text_width(self.text) * self.height

    @property
    def start(self) -> Point:
        """Where the baseline begins."""
        back = {Anchor.START: 0.0, Anchor.MIDDLE: self.length / 2, Anchor.END: self.length}[self.anchor]
        x, y = self.at
        return (x + self.height / 2, y + back) if self.upwards else (x - back, y + self.height / 2)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, upper, right and lower end of the line, tails included."""
        x, y = self.start
        if self.upwards:
            return (x - self.height, y - self.length, x + 0.3 * self.height, y)
        return (x, y - self.height, x + self.length, y + 0.3 * self.height)


@dataclass(frozen=True)
class Raster:
    """A picture of pixels, a PNG file, ``width`` by ``height`` drawing inches with its upper left corner ``at``."""

    at: Point
    width: float
    height: float
    png: bytes


Shape = Path | Words | Raster


@dataclass(frozen=True)
class Drawing:
    """A sheet of ``width`` by ``height`` drawing inches; later shapes cover earlier ones.

    ``sections`` are the names of those parts of a longer paper that begin on it.
    """

    width: float
    height: float
    shapes: tuple[Shape, ...]
    paper: str = "#fbf9f4"
    title: str = ""
    sections: tuple[str, ...] = ()

    @property
    def words(self) -> tuple[Words, ...]:
        """All lines of letters, in order."""
        return tuple(shape for shape in self.shapes if isinstance(shape, Words))


def rectangle(left: float, upper: float, right: float, lower: float) -> tuple[Point, Point, Point, Point]:
    """Corners of an upright rectangle."""
    return ((left, upper), (right, upper), (right, lower), (left, lower))


def zigzag(left: float, upper: float, right: float, lower: float, tooth: float) -> tuple[Point, ...]:
    """A closed zigzag about a rectangle, teeth of this size."""
    points: list[Point] = []
    corners = rectangle(left, upper, right, lower)
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        length = abs(x1 - x0) + abs(y1 - y0)
        teeth = max(1, round(length / tooth))
        out = (tooth / 2 * (y1 - y0) / length, tooth / 2 * (x0 - x1) / length) if length else (0.0, 0.0)
        for number in range(teeth):
            for share, off in ((number / teeth, 0.0), ((number + 0.5) / teeth, 1.0)):
                points.append((x0 + (x1 - x0) * share + off * out[0], y0 + (y1 - y0) * share + off * out[1]))
    return tuple(points)


def clipped(points: tuple[Point, ...], left: float, upper: float, right: float, lower: float) -> tuple[Point, ...]:
    """The part of a polygon inside a rectangle; empty when none is."""
    if all(left <= x <= right and upper <= y <= lower for x, y in points):
        return points
    for axis, limit, sign in ((0, left, 1), (0, right, -1), (1, upper, 1), (1, lower, -1)):
        points = _half(points, axis, limit, sign)
    return points


def _half(points: tuple[Point, ...], axis: int, limit: float, sign: int) -> tuple[Point, ...]:
    kept: list[Point] = []
    for here, before in zip(points, points[-1:] + points[:-1], strict=True):
        inside, came_inside = (sign * (p[axis] - limit) >= 0 for p in (here, before))
        if inside != came_inside:
            share = (limit - before[axis]) / (here[axis] - before[axis])
            kept.append((before[0] + share * (here[0] - before[0]), before[1] + share * (here[1] - before[1])))
        if inside:
            kept.append(here)
    return tuple(kept)
