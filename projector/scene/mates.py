"""Whether the mates of a panel will match it: what a photograph of it, laid back, says edge by edge.

A panel's print hangs *higher* than its mate's where its cut was made further down the print than the mate's is: laid
edge to edge, its rows then stand that much nearer to its top. At the foot the same is told with the foot edges level.
Inches are those of the cloth.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from typing import TYPE_CHECKING

from calibration.quantiles import CENTRAL_95
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.registration.measures import squared
from jobs.model.choices import Follow
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Placement
from jobs.model.job import Job
from jobs.model.records import dataclass
from jobs.planning.mates import Meeting

if TYPE_CHECKING:
    from calibration.laying.laid_back import LaidBack
    from calibration.laying.laying import Photo
    from calibration.laying.tile import Tile
    from calibration.table import Table

ENDS = ("top", "foot")
STEPS_PER_INCH = 32
"""What a cut is moved by is told in such steps: no photograph tells finer."""


class Verdict(StrEnum):
    """Whether two edges will match: within the tolerance or not; open where the photograph cannot tell."""

    MATCHES = "matches"
    MISSES = "misses"
    OPEN = "open"


@dataclass(frozen=True)
class Higher:
    """How much higher the panel's print hangs than its mate's, and within what that is in 95 of 100."""

    higher_in: float
    within_in: float

    def verdict(self, tolerance_in: float) -> Verdict:
        """Open where the tolerance lies within one standard uncertainty of the figure."""
        if abs(abs(self.higher_in) - tolerance_in) < self.within_in / CENTRAL_95:
            return Verdict.OPEN
        return Verdict.MATCHES if abs(self.higher_in) < tolerance_in else Verdict.MISSES


@dataclass(frozen=True)
class Seam:
    """One meeting of a panel: how its print hangs against its mate's with their tops level, and with their feet level.

    None: that end was not seen. ``photographed``: the mate was photographed too; else it is taken to be cut as planned.
    """

    meeting: Meeting
    top: Higher | None
    foot: Higher | None
    photographed: bool

    @property
    def seen(self) -> tuple[Higher, ...]:
        """What was seen, the top first."""
        return tuple(one for one in (self.top, self.foot) if one is not None)

    def verdict(self, tolerance_in: float) -> Verdict:
        """The worst of both ends."""
        found = {one.verdict(tolerance_in) for one in self.seen}
        return next(one for one in (Verdict.MISSES, Verdict.OPEN, Verdict.MATCHES) if one in found)

    @property
    def lower_in(self) -> float:
        """How much further down its print the mate is to be cut, so that it matches: to the nearest 32nd.

        By the mean of both ends where these agree, else by the top, by which both hang.
        """
        top, foot = self.top, self.foot
        first = self.seen[0]
        wanted = first.higher_in
        if top is not None and foot is not None and abs(top.higher_in - foot.higher_in) <= top.within_in:
            wanted = (top.higher_in + foot.higher_in) / 2
        return round(wanted * STEPS_PER_INCH) / STEPS_PER_INCH

    @property
    def to_right_in(self) -> float:
        """The same as a move of the light over the cloth as the mate lies there: to the right, to the left below 0."""
        return _down(self.meeting.mate.cut) * self.lower_in


@dataclass(frozen=True)
class Aslant:
    """An end (``top`` or ``foot``) that was cut aslant on the print: so much lower at its return edge than at its
    leading edge."""

    end: str
    lower_in: float
    within_in: float


@dataclass(frozen=True)
class Mating:
    """All that a photograph of a panel says of its mates. ``longer_in``: how much longer it was cut than its print has
    it, None where one end was not seen."""

    placed: Placement
    seams: tuple[Seam, ...]
    aslant: tuple[Aslant, ...]
    longer_in: float | None
    seen: tuple[str, ...]


def panel_of(placed: Placement, lattice: PrintLattice) -> PrintFit:
    """The print of a placed cut's panel as it lay when it was cut, on the lattice of its own strip of the cloth; its
    first edge lies at x = 0. ``lattice`` is that of the whole width of its piece."""
    near, far = map(float, placed.cut.parted)
    return PrintFit.plain(lattice.strip(near, far), float(placed.start))


def panel_seen(photo: Photo, table: Table, placed: Placement, tile: Tile, cloth: Cloth) -> LaidBack:
    """What a photograph of a placed cut's panel, laid back, says of its cuts; ``tile`` is on the lattice of the whole
    width of its piece. Raises ``PhotographRefused``."""
    from calibration.laying.laid_back import back_from_photograph
    from calibration.laying.laying import Planned

    carried = panel_of(placed, tile.lattice)
    own = replace(tile, lattice=carried.lattice)
    planned = Planned(carried, own, cut_in=(float(placed.start), float(placed.end)))
    return back_from_photograph(photo, table, planned, square=cloth.follow is Follow.SELVEDGE)


def mating(
    job: Job, placed: Placement, meetings: Sequence[Meeting], back: LaidBack, mates: Mapping[str, LaidBack]
) -> Mating:
    """What the panel of a placed cut, laid back, says of what it meets; ``mates`` are those of its mates that were
    photographed as well."""
    own = _Ends(placed, back, job.cloth)
    seams = []
    for one in meetings:
        other = mates.get(one.mate.cut.id)
        against = None if other is None else _Ends(one.mate, other, job.cloth)
        top, foot = (_higher(own, one, against, back, end) for end in ENDS)
        if top is not None or foot is not None:
            seams.append(Seam(one, top, foot, other is not None))
    seen = tuple(end for end in ENDS if own.at(end, placed.cut.leading_edge) is not None)
    return Mating(placed, tuple(seams), tuple(_aslant(own, seen)), _longer(own), seen)


def _down(cut: Cut) -> int:
    """Whether down the hanging cut is further along the piece (1) or back (-1)."""
    return -cut.top_edge.sense


@dataclass(frozen=True, eq=False)
class _Ends:
    """The ends of a panel as they were photographed."""

    placed: Placement
    back: LaidBack
    cloth: Cloth

    def at(self, end: str, edge: Edge, inside_in: float = 0.0) -> Higher | None:
        """How much higher the print hangs there than where the print has the end, so far inside a side edge."""
        near, far = map(float, self.placed.cut.parted)
        across = (far - inside_in if edge is Edge.FAR else near + inside_in) - near
        off = self.back.off(is_last(self.placed.cut, end), across)
        return None if off is None else Higher(_down(self.placed.cut) * off.off_in, off.within_in)


def is_last(cut: Cut, end: str) -> bool:
    """Whether its top or its foot is the end towards the last end of the piece."""
    edge = cut.top_edge if end == "top" else cut.foot_edge
    return edge is Edge.LAST


def _higher(own: _Ends, meeting: Meeting, against: _Ends | None, back: LaidBack, end: str) -> Higher | None:
    """How much higher the panel's print hangs than its mate's where they meet, tops or feet level."""
    here = own.at(end, meeting.edge, _inside(meeting.cut, meeting.edge))
    if here is None:
        return None
    if against is not None:
        there = against.at(end, meeting.mate_edge, _inside(meeting.mate, meeting.mate_edge))
        if there is None:
            return None
        return Higher(here.higher_in - there.higher_in, math.hypot(here.within_in, there.within_in))
    by_plan = 0.0
    if own.cloth.follow is Follow.SELVEDGE:
        # Cut square to the selvedge the mate misses the print as well, by how this cloth is skewed and bowed.
        by_plan = _down(meeting.mate.cut) * _square_off(back, float(meeting.mate_line))
    return Higher(here.higher_in - by_plan, here.within_in)


def _inside(placed: Placement, edge: Edge) -> float:
    """How far inside the parted strip's edge a cut is seamed or folded."""
    near, far = placed.cut.parted
    line = placed.at(edge, placed.cut.fold(edge))
    return float(far - line if edge is Edge.FAR else line - near)


def _square_off(back: LaidBack, across_in: float) -> float:
    """How far along from where the print has it a cut lies that is made square to the selvedge, inches of the cloth."""
    fit: PrintFit = back.found.fit
    sense = -1 if back.turned else 1
    across = fit.lattice.width_in - across_in if back.turned else across_in
    along = float(fit.to_piece(squared(fit).to_table([(0.0, across)]))[0][0])
    return sense * along * fit.stretch_along


def _aslant(own: _Ends, seen: tuple[str, ...]) -> Iterator[Aslant]:
    cut = own.placed.cut
    for end in seen:
        leading, returning = (
            own.at(end, edge, _inside(own.placed, edge)) for edge in (cut.leading_edge, cut.return_edge)
        )
        if leading is not None and returning is not None:
            within = math.hypot(leading.within_in, returning.within_in)
            yield Aslant(end, returning.higher_in - leading.higher_in, within)


def _longer(own: _Ends) -> float | None:
    width = own.back.found.fit.lattice.width_in
    first, last = (own.back.off(last, width / 2) for last in (False, True))
    return None if first is None or last is None else last.off_in - first.off_in
