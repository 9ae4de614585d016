"""The cloth of a job as plain data: its sizes, its print and the pieces as delivered.

Every length is an exact ``Fraction`` of an inch.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from jobs.choices import End, Follow, PrintKey, Run, Symmetry

ZERO = Fraction(0)


@dataclass(frozen=True)
class Repeat:
    """Distances after which the print comes again, along (warp) and across (weft)."""

    along: Fraction
    across: Fraction | None = None


@dataclass(frozen=True)
class Print:
    """Symmetry of the print as it lies on the cloth, warp vertical.

    ``mirror_offset`` is measured on the hanging cloth: from a row down to the nearest top-to-bottom mirror line (or
    glide line); of cloth run sideways, where that line hangs upright, from the row away from the first end.
    ``mirror_offset_across`` is the distance from a column, away from the near selvedge, to the nearest side-to-side
    one; None: not measured. ``top_towards`` is the end of the piece to which the motif's top points.
    """

    top_to_bottom: Symmetry = Symmetry.NONE
    side_to_side: Symmetry = Symmetry.NONE
    half_turn: bool = False
    mirror_offset: Fraction = ZERO
    one_way: bool = False
    top_towards: End = End.FIRST
    group: str | None = None
    mirror_offset_across: Fraction | None = None

    @property
    def mirror_along(self) -> Fraction:
        """From a row to that mirror line along the piece, away from its first end; below 0 where down is towards it."""
        return self.mirror_offset if self.top_towards is End.FIRST else -self.mirror_offset


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
    greatest length the cloth is sold in without a break; None: any. ``shrinkage_across`` counts only where the height
    of the panels lies across the cloth. ``picture`` is a file with one repeat of the print, named from the job file.
    ``not_known`` are the keys of the print that nobody has answered yet: what stands here for them means nothing until
    ``jobs.ordering.assumed`` puts an answer there.
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
    shrinkage_across: Fraction = ZERO
    picture: str = ""
    not_known: frozenset[PrintKey] = frozenset()
