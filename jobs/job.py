"""A job as plain data: what the windows, the cloth and the allowances are.

Every length is an exact ``Fraction`` of an inch, whatever unit the file was written in.
Nothing here reads files or computes; see ``jobs.reading`` and ``jobs.cutting``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from jobs.choices import End, Follow, Hang, Motif, Panels, PrintKey, ReturnsAdded, Run, Symmetry, TurnedOver, Unit
from jobs.cloth import ZERO, Cloth, Flaw, Piece, Print, Repeat

__all__ = [
    "ZERO",
    "Allowances",
    "Cloth",
    "CuttingTable",
    "End",
    "Flaw",
    "Follow",
    "Hang",
    "Job",
    "Limits",
    "Motif",
    "Panels",
    "Piece",
    "Pins",
    "Place",
    "Print",
    "PrintKey",
    "Repeat",
    "ReturnsAdded",
    "RoomLight",
    "RowRule",
    "Run",
    "Symmetry",
    "TurnedOver",
    "Unit",
    "Wanted",
    "Window",
]


@dataclass(frozen=True)
class Place:
    """Where something stands in a file: 1-based line and column."""

    line: int
    column: int


@dataclass(frozen=True)
class Allowances:
    """What is added to the finished sizes, and the strip lost in squaring the first end."""

    heading: Fraction = ZERO
    hem: Fraction = ZERO
    side_hem: Fraction = ZERO
    seam: Fraction = ZERO
    squaring: Fraction = ZERO


@dataclass(frozen=True)
class RowRule:
    """Where a row of the print shall stand in a finished panel; exactly one of the three is set."""

    below_top: Fraction | None = None
    above_foot: Fraction | None = None
    level_with: str | None = None


@dataclass(frozen=True)
class Window:
    """One window and the panels it gets. Exactly one of ``cuts_per_panel`` and ``rod`` is set.

    ``returns`` is one return: a pair and a whole panel have two, a single left or right panel one. Windows of one
    ``room`` are seen together, so they come from one dye lot.
    """

    name: str
    panels: Panels
    finished_length: Fraction
    hang: Hang = Hang.MIRRORED
    top_height: Fraction | None = None
    cuts_per_panel: Fraction | None = Fraction(1)
    rod: Fraction | None = None
    returns: Fraction = ZERO
    overlap: Fraction = ZERO
    fullness: Fraction = Fraction(2)
    row: RowRule | None = None
    side_by_side: bool = True
    room: str = ""
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Wanted:
    """A small thing to be cut from what is left, as cut: so long along the cloth, so wide across it, so many of it."""

    name: str
    along: Fraction
    across: Fraction
    count: int = 1
    motif: Motif = Motif.ANYWHERE


@dataclass(frozen=True)
class CuttingTable:
    """The table the cloth is laid on, when no calibration is given."""

    length: Fraction
    width: Fraction


@dataclass(frozen=True)
class Pins:
    """Pins or hooks along the heading: never farther apart than ``spacing`` on the flat panel, the first and the last
    ``from_side`` inside the finished sides."""

    spacing: Fraction
    from_side: Fraction = Fraction(1)


@dataclass(frozen=True)
class RoomLight:
    """Lux on the table: the light of the room, and the projector's full white."""

    room: Fraction = Fraction(300)
    projector: Fraction = Fraction(2000)


@dataclass(frozen=True)
class Limits:
    """How much bow and skew of the cloth was agreed with the supplier, as shares of the cloth width."""

    bow: Fraction = Fraction(2, 100)
    skew: Fraction = Fraction(2, 100)


@dataclass(frozen=True)
class Job:
    """Everything a job file says."""

    title: str
    unit: Unit
    cloth: Cloth
    windows: tuple[Window, ...]
    allowances: Allowances = field(default_factory=Allowances)
    table: CuttingTable | None = None
    limits: Limits = field(default_factory=Limits)
    notices: tuple[str, ...] = ()
    """What was left out of the file and what was taken instead, in words for the person."""
    tolerance: Fraction = Fraction(1, 16)
    """How far off a lit cut line may be; a line that may be farther off is lit as doubtful."""
    returns_added: ReturnsAdded = ReturnsAdded.BEFORE
    flaws_may_lie_in: tuple[TurnedOver, ...] = ()
    """Where a flaw does no harm."""
    wanted: tuple[Wanted, ...] = ()
    pins: Pins | None = None
    stiffener: Fraction | None = None
    """How far below the cut edge of the heading a stiffener is laid."""
    doubled: tuple[TurnedOver, ...] = ()
    """Hems that are turned twice, each time half of what is allowed."""
    light: RoomLight = field(default_factory=RoomLight)
