"""A cut as plain data: a rectangle of a piece of cloth, which of its edges is the top and which leads, and its place.

Positions are exact inches in the piece frame: along from the piece's first end, across from the near selvedge. In the
panel frame a place is told by how far it lies down from the top edge and in from the leading edge.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import TypeAlias

from jobs.model.records import dataclass
from jobs.model.schema import ZERO

Interval: TypeAlias = tuple[Fraction, Fraction]
MOST_CUTS = 60
"""Joined into one panel."""


class Way(StrEnum):
    """How a cut lies on the piece."""

    UPRIGHT = "upright"
    TURNED = "turned"
    FACE_DOWN = "face down"


class Hand(StrEnum):
    """Which panel of a window, as seen from inside the room."""

    LEFT = "left"
    RIGHT = "right"
    WHOLE = "whole"


class Edge(StrEnum):
    """An edge of a rectangle of the piece: towards one of its ends, or towards the near or the far selvedge."""

    FIRST = "first end"
    LAST = "last end"
    NEAR = "near"
    FAR = "far"

    @property
    def opposite(self) -> Edge:
        return _OPPOSITE[self]

    @property
    def is_end(self) -> bool:
        """Whether it runs across the piece, so that its position is one along it."""
        return self in (Edge.FIRST, Edge.LAST)

    @property
    def sense(self) -> int:
        """Out of the rectangle positions grow (+1) or fall (-1)."""
        return 1 if self in (Edge.LAST, Edge.FAR) else -1

    def at(self, along: Interval, across: Interval, inside: Fraction = ZERO) -> Fraction:
        """Where the line lies that runs this far inside the edge of a rectangle: along the piece, or across it."""
        stretch = along if self.is_end else across
        return stretch[self.sense > 0] - self.sense * inside


EDGE_NAMES = ("top", "foot", "leading", "return")
_OPPOSITE = {Edge.FIRST: Edge.LAST, Edge.LAST: Edge.FIRST, Edge.NEAR: Edge.FAR, Edge.FAR: Edge.NEAR}
_LEFT_OF_TOP = {Edge.FIRST: Edge.NEAR, Edge.NEAR: Edge.LAST, Edge.LAST: Edge.FAR, Edge.FAR: Edge.FIRST}
"""The piece lies face up, its first end to the left, the near selvedge towards the person."""


def left_edge(top_edge: Edge, way: Way) -> Edge:
    """The edge that hangs at the left, seen from inside the room: used face down, a cut hangs the other way about."""
    left = _LEFT_OF_TOP[top_edge]
    return left.opposite if way is Way.FACE_DOWN else left


def leading_edge(hand: Hand, top_edge: Edge, way: Way) -> Edge:
    """The right edge of a left panel, the left edge of a right one; a whole panel counts like a left one."""
    left = left_edge(top_edge, way)
    return left if hand is Hand.RIGHT else left.opposite


def which_cut(hand: Hand, number: int, of: int) -> str:
    """Which cut of its window or thing: ``left, 1 of 2``; of a whole panel the number alone, and nothing of an only
    cut."""
    if hand is not Hand.WHOLE:
        return f"{hand}, {number} of {of}"
    return f"{number} of {of}" if of > 1 else ""


def name_of_cut(window: str, hand: Hand, number: int, of: int) -> str:
    """Whose cut it is, wherever people read it: ``Window 1, left, 1 of 2``, ``Cushion``."""
    which = which_cut(hand, number, of)
    return f"{window}, {which}" if which else window


@dataclass(frozen=True)
class Side:
    """The leading or the return side of a cut, measured in from that edge.

    ``line`` is where the side is seamed (``joined``) or its hem, ``hem`` deep, is folded; what lies outside ``trim`` is
    cut away first, which is nothing where it is 0.
    """

    line: Fraction
    hem: Fraction = ZERO
    joined: bool = False
    trim: Fraction = ZERO


@dataclass(frozen=True)
class Cut:
    """A rectangle to take from the cloth, before it has a place along a piece: ``length`` along, ``across`` it.

    ``top_edge`` is the edge of the rectangle that hangs uppermost, ``leading_edge`` the one beside it that leads; foot
    and return edge lie opposite. ``parted`` is the strip that is parted from the piece with the cut: what of it lies
    outside ``across`` is trimmed off later.
    ``row`` is the distance from the top edge down to the first row, ``phase`` that from a row of the first column to
    the edge towards the first end, each in [0, repeat) of what it is measured along; on plain cloth None and 0.
    ``heading`` and ``hem`` are the allowances as cut (shrinkage included): the finished top lies ``heading`` below the
    top edge, the finished foot ``hem`` above the foot edge. ``number`` of ``of`` counts cuts within the panel.
    Cuts with the same non-empty word in ``beside`` lie in one length of cloth, which is cut off from selvedge to
    selvedge first and slit between them then: ``before`` and ``after`` are what of that length lies along it before the
    first edge of the cut and after its last one.
    """

    id: str
    window: str
    hand: Hand
    panel: str
    number: int
    of: int
    length: Fraction
    across: Interval
    parted: Interval
    top_edge: Edge
    leading_edge: Edge
    way: Way
    handbook: Fraction
    row: Fraction | None
    phase: Fraction
    heading: Fraction
    hem: Fraction
    leading_side: Side
    return_side: Side
    beside: str = ""
    before: Fraction = ZERO
    after: Fraction = ZERO

    @property
    def which(self) -> str:
        """Which cut of its window or thing, see ``which_cut``."""
        return which_cut(self.hand, self.number, self.of)

    @property
    def name(self) -> str:
        """Whose cut it is, see ``name_of_cut``."""
        return name_of_cut(self.window, self.hand, self.number, self.of)

    @property
    def shared_length(self) -> Fraction:
        """How long the length is that is cut off from selvedge to selvedge for it and what lies beside it."""
        return self.before + self.length + self.after

    @property
    def foot_edge(self) -> Edge:
        return self.top_edge.opposite

    @property
    def return_edge(self) -> Edge:
        return self.leading_edge.opposite

    @property
    def left_edge(self) -> Edge:
        """The edge that hangs at the left, seen from inside the room."""
        return left_edge(self.top_edge, self.way)

    @property
    def height(self) -> Fraction:
        """From top to foot edge."""
        return self.length if self.top_edge.is_end else self.across[1] - self.across[0]

    @property
    def width(self) -> Fraction:
        """From leading to return edge."""
        return self.length if self.leading_edge.is_end else self.across[1] - self.across[0]

    @property
    def finished_width(self) -> Fraction:
        """Between the lines at which its sides are seamed or folded."""
        return self.width - self.leading_side.line - self.return_side.line

    def name_of(self, edge: Edge) -> str:
        """What an edge is of the panel: top, foot, leading or return."""
        return EDGE_NAMES[(self.top_edge, self.foot_edge, self.leading_edge, self.return_edge).index(edge)]

    def side_at(self, edge: Edge) -> Side | None:
        """The side that lies at an edge; None for top and foot."""
        return {self.leading_edge: self.leading_side, self.return_edge: self.return_side}.get(edge)

    def fold(self, edge: Edge) -> Fraction:
        """How far inside an edge the panel is folded there, or seamed."""
        side = self.side_at(edge)
        return side.line if side is not None else self.heading if edge is self.top_edge else self.hem


@dataclass(frozen=True)
class Placement:
    """A cut with its place on a piece (piece numbers count from 1).

    ``top``, ``foot``, ``leading`` and ``returning`` are the positions of its four edges, along the piece or across it.
    """

    cut: Cut
    piece: int
    start: Fraction

    @property
    def end(self) -> Fraction:
        return self.start + self.cut.length

    def at(self, edge: Edge, inside: Fraction = ZERO) -> Fraction:
        """Where the line lies that runs this far inside an edge of the cut: along the piece, or across it."""
        return edge.at((self.start, self.end), self.cut.across, inside)

    @property
    def crosscuts(self) -> Interval:
        """Where the length it shares with others is cut off from selvedge to selvedge; alone, its own ends."""
        return self.start - self.cut.before, self.end + self.cut.after

    @property
    def top(self) -> Fraction:
        return self.at(self.cut.top_edge)

    @property
    def foot(self) -> Fraction:
        return self.at(self.cut.foot_edge)

    @property
    def leading(self) -> Fraction:
        return self.at(self.cut.leading_edge)

    @property
    def returning(self) -> Fraction:
        return self.at(self.cut.return_edge)
