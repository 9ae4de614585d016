"""A plan as plain data: cuts, where they lie on the piece, and the stops at the table.

Positions are exact inches in the piece frame: along from the piece's first end, across from the near selvedge.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Motif
from jobs.model.cuts import Cut, Edge, Placement
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.problems import Problem
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob


@dataclass(frozen=True)
class Span:
    """A stretch of a piece, from its first end, with the rows of the print (of its first column) that lie in it.

    ``across`` is the strip of the cloth it takes, from the near selvedge; None for the whole width.
    """

    start: Fraction
    end: Fraction
    across: tuple[Fraction, Fraction] | None = None
    rows: tuple[Fraction, ...] = ()


@dataclass(frozen=True)
class PieceUse:
    """What the plan does with one piece; ``used`` is measured from its first end.

    ``leftovers`` reach from selvedge to selvedge, ``beside`` are the free strips beside narrow cuts.
    """

    number: int
    piece: Piece
    used: Fraction
    leftovers: tuple[Span, ...]
    beside: tuple[Span, ...] = ()


@dataclass(frozen=True)
class PlacedThing:
    """A small thing, number ``number`` of ``count``, placed on what is left: along from ``start`` to ``end``, across
    from ``near`` to ``far``."""

    name: str
    number: int
    count: int
    piece: int
    start: Fraction
    end: Fraction
    near: Fraction
    far: Fraction
    motif: Motif


@dataclass(frozen=True)
class Unplaced:
    """So many of a small thing found no room."""

    name: str
    count: int


@dataclass(frozen=True)
class Stop:
    """One position of the cloth on the table: ``cloth_at_left`` lies at table x = 0; ``shows`` names lit cut edges.

    They are top and foot wherever these lie, and leading and return where these part the cut from the piece.
    """

    number: int
    placement: Placement
    pull: int
    cloth_at_left: Fraction
    lit_from: Fraction
    lit_to: Fraction
    shows: tuple[str, ...]

    @property
    def shows_last_edge(self) -> bool:
        """Whether the edge of the cut nearest the last end of the piece is lit."""
        return self.placement.cut.name_of(Edge.LAST) in self.shows


@dataclass(frozen=True)
class Plan:
    """Cuts laid on pieces. ``resolved`` is the job worked out, ``cuts`` its cuts as they are laid. ``short`` is what is
    missing (then there are no placements and no stops).

    ``assumed_piece`` is true when the job names no pieces and pieces as ordered were assumed. ``stopped`` tells that
    the person stopped the search, ``spread`` names the windows that are cut from more than one piece of a dye lot,
    ``mixed_rooms`` the rooms whose windows are cut from more than one dye lot, ``unmet`` tells which cuts do not lie
    where the job wishes them, and why. ``least_opened`` is a number of pieces that no plan can do with fewer of;
    ``proved_shortest`` tells that none that opens as few as this one is shorter.
    """

    resolved: ResolvedJob
    cuts: tuple[Cut, ...]
    placements: tuple[Placement, ...]
    pieces: tuple[PieceUse, ...]
    stops: tuple[Stop, ...]
    used: Fraction
    bound: Fraction
    proved_shortest: bool
    short: Fraction
    assumed_piece: bool
    stopped: bool = False
    spread: tuple[str, ...] = ()
    mixed_rooms: tuple[str, ...] = ()
    wanted: tuple[PlacedThing, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
    unmet: tuple[Problem, ...] = ()
    least_opened: int = 0

    @property
    def opened(self) -> int:
        """How many pieces are cut into."""
        return sum(1 for use in self.pieces if use.used)

    @property
    def whole(self) -> tuple[int, ...]:
        """The numbers of the pieces that stay as they are; none while the cuts do not fit."""
        return () if self.short else tuple(use.number for use in self.pieces if not use.used)

    @property
    def job(self) -> Job:
        return self.resolved.job

    @property
    def wished(self) -> bool:
        """Whether the job says of a cut where it shall lie: ``bound`` and proof are then of plans around that."""
        return any(window.places for window in self.job.windows)

    def shared_length(self, placed: Placement) -> tuple[Placement, ...]:
        """What lies side by side in the same length, the cut itself among it, in the order of cutting."""
        if not placed.cut.beside:
            return (placed,)
        return tuple(p for p in self.placements if (p.piece, p.cut.beside) == (placed.piece, placed.cut.beside))

    def with_job(self, job: Job) -> Plan:
        """The same plan of a job that says something else of what moves no cut, such as its unit."""
        return replace(self, resolved=replace(self.resolved, job=job))
