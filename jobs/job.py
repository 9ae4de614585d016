"""A job as plain data: what the windows, the cloth and the allowances are.

Every length is an exact ``Fraction`` of an inch, whatever unit the file was written in.
Nothing here reads files or computes; see ``jobs.reading`` and ``jobs.cutting``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

ZERO = Fraction(0)


class Unit(StrEnum):
    """Unit of bare numbers in a job file, and the unit lengths are shown in."""

    INCH = "in"
    CENTIMETRE = "cm"
    MILLIMETRE = "mm"


class Symmetry(StrEnum):
    """What a mirror line of one direction does to the print."""

    NONE = "none"
    MIRROR = "mirror"
    GLIDE = "glide"


class Panels(StrEnum):
    """Which panels a window gets; hands are as seen from inside the room."""

    PAIR = "pair"
    LEFT = "left"
    RIGHT = "right"
    WHOLE = "whole"


class Hang(StrEnum):
    """How the second panel of a pair relates to the first."""

    MIRRORED = "mirrored"
    SAME = "same"


class Follow(StrEnum):
    """What cut lines follow: the print as it really lies, or the selvedge (square to it)."""

    PRINT = "print"
    SELVEDGE = "selvedge"


class End(StrEnum):
    """One of the two ends of a piece."""

    FIRST = "first end"
    LAST = "last end"


class ReturnsAdded(StrEnum):
    """Whether the returns are multiplied by the fullness with the rest, or added to it flat."""

    BEFORE = "before fullness"
    AFTER = "after fullness"


class Run(StrEnum):
    """Which way the cloth runs in a panel: its selvedges upright, or level along top and foot."""

    UP = "up"
    SIDEWAYS = "sideways"


class TurnedOver(StrEnum):
    """Parts of a cut that are turned over, where a flaw may be hidden."""

    HEADING = "heading"
    HEM = "hem"
    SIDE_HEM = "side hem"


class Motif(StrEnum):
    """Where a motif lies in a small thing."""

    CENTRED = "centred"
    ANYWHERE = "anywhere"


@dataclass(frozen=True)
class Place:
    """Where something stands in a file: 1-based line and column."""

    line: int
    column: int


@dataclass(frozen=True)
class Repeat:
    """Distances after which the print comes again, along (warp) and across (weft)."""

    along: Fraction
    across: Fraction | None = None


@dataclass(frozen=True)
class Print:
    """Symmetry of the print as it lies on the cloth, warp vertical.

    ``mirror_offset`` is the distance along from a row to the nearest top-to-bottom mirror line (or glide line),
    ``mirror_offset_across`` the distance across from a column to the nearest side-to-side one; None: not measured.
    ``top_towards`` is the end of the piece to which the motif's top points.
    """

    top_to_bottom: Symmetry = Symmetry.NONE
    side_to_side: Symmetry = Symmetry.NONE
    half_turn: bool = False
    mirror_offset: Fraction = ZERO
    one_way: bool = False
    top_towards: End = End.FIRST
    group: str | None = None
    mirror_offset_across: Fraction | None = None


@dataclass(frozen=True)
class Flaw:
    """A bad place on a piece: from and to along it; ``across`` from the near selvedge, whole width when None."""

    start: Fraction
    end: Fraction
    across: tuple[Fraction, Fraction] | None = None
    note: str = ""


@dataclass(frozen=True)
class Piece:
    """One continuous length of cloth as delivered. ``first_row`` is measured from its first end.

    Pieces of one ``dye_lot`` have the same colour; a piece without one is a lot of its own.
    """

    length: Fraction
    first_row: Fraction = ZERO
    flaws: tuple[Flaw, ...] = ()
    dye_lot: str = ""


@dataclass(frozen=True)
class Cloth:
    """The material. ``shrinkage`` is a share (3 % is 3/100); ``sold_by`` the unit orders are rounded up to.

    ``first_column`` is the column the first row is measured on, from the near selvedge; None: the columns are centred.
    ``side_by_side`` tells whether narrow panels and half cuts may share one length of cloth. ``longest_piece`` is the
    greatest length the cloth is sold in without a break; None: any.
    """

    name: str
    width: Fraction
    selvedge: Fraction = ZERO
    repeat: Repeat | None = None
    drop: Fraction = ZERO
    print: Print = field(default_factory=Print)
    faces_alike: bool = False
    shrinkage: Fraction = ZERO
    colour: str = "#8d8f92"
    motif_colours: tuple[str, ...] = ()
    sold_by: Fraction | None = None
    pieces: tuple[Piece, ...] = ()
    follow: Follow = Follow.PRINT
    thickness: Fraction | None = None
    layers: int = 1
    run: Run = Run.UP
    first_column: Fraction | None = None
    side_by_side: bool = True
    longest_piece: Fraction | None = None


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

    ``returns`` is one return: a pair and a whole panel have two, a single left or right panel one.
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
