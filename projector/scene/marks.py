"""Marks of light, as data in table inches: what is lit and how large it is, not how it is drawn.

The table frame has its origin at the near-left mark, x to the right along the table, y away from the person.

Cap height = 2 x distance x tan(angle / 2); 20 minutes of arc is advised for labels, 15 to 16 is the least
(NUREG-0700; ISO 9241-303). An eye 96 in away needs 0.559 in for 20 minutes and 0.447 in for 16.
"""

from __future__ import annotations

from enum import StrEnum

from jobs.model.records import dataclass

Point = tuple[float, float]


class Kind(StrEnum):
    """What a mark means; its look (width, line type, colour) follows from it in ``projector.light.styles``."""

    CUT = "cut line"
    CUT_DOUBTFUL = "cut line in doubt"
    ROW = "row"
    COLUMN = "column"
    CROSSING = "crossing"
    MATCH = "match mark"
    TRIM = "trim line"
    FOLD = "fold line"
    STIFFENER = "stiffener line"
    PIN = "pin"
    TOP = "top"
    FLAW = "flaw"
    DONE = "done"
    LEFTOVER = "leftover"
    LETTER = "letter"
    GUIDE = "guide"
    TARGET = "target"


@dataclass(frozen=True)
class Stroke:
    """A line or polyline, drawn with the line type of its kind; ``points`` are table inches."""

    kind: Kind
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Text:
    """One line of letters. ``at`` is the middle of the baseline-to-cap-height box, ``height`` the cap height in inches.

    ``turn_deg`` turns the baseline counter-clockwise from +x; letters are upright for the person at 0.
    """

    kind: Kind
    text: str
    at: Point
    height: float
    turn_deg: float = 0.0


@dataclass(frozen=True)
class Hatch:
    """An area filled with hatching; ``outline`` is a simple polygon in table inches."""

    kind: Kind
    outline: tuple[Point, ...]


Mark = Stroke | Text | Hatch


@dataclass(frozen=True)
class Scene:
    """Everything lit at once. Later marks lie over earlier ones only where light is equal."""

    marks: tuple[Mark, ...] = ()

    def of(self, *kinds: Kind) -> tuple[Mark, ...]:
        """The marks of these kinds, in order."""
        return tuple(mark for mark in self.marks if mark.kind in kinds)

    def without(self, *kinds: Kind) -> Scene:
        """The same scene with these kinds left dark."""
        return Scene(tuple(mark for mark in self.marks if mark.kind not in kinds))


LABEL_IN = 0.6
LEAST_LABEL_IN = 0.45
TOP_IN = 2.0
NAME_IN = 0.85
FOOT_IN = 1.1
DONE_IN = 2.0

CLEAR_IN = 0.35
"""Dark between a label and any line it must not touch."""
GAP_IN = 0.12
"""Dark left around a label where a faint line is interrupted for it."""

TICK_OFF_IN = 0.4
TICK_HALF_IN = 0.5
MATCH_HALF_IN = 0.5
MATCH_APART_IN = 0.3
PLUS_HALF_IN = 0.3
PLUS_SHARE = 0.2
"""Half a plus is no more than this share of a repeat."""
PIN_HALF_IN = 0.2
ZIGZAG_PITCH_IN = 0.5
ZIGZAG_DEPTH_IN = 0.2
LEAST_LEFTOVER_IN = 1.0
"""A lit leftover narrower than this is not marked: there would be no room for a word."""
SHARED_IN = 0.5
"""An edge no farther than this from a lit cut line is that line."""
