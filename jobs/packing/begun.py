"""What is cut already: where it lies stays, and what is left of its windows follows it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Placement
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.records import dataclass
from jobs.packing.items import is_spoilt


@dataclass(frozen=True)
class Begun:
    """Placements that stay, cuts that are still to be laid, and the piece of each window that is begun."""

    fixed: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    homes: Mapping[str, int]

    def with_fixed(self, placed: Sequence[Placement]) -> Begun:
        """The same with some of its cuts placed for good; what is left of their windows comes from their piece."""
        ids = {one.cut.id for one in placed}
        return Begun(
            tuple(sorted((*self.fixed, *placed), key=lambda one: (one.piece, one.start))),
            tuple(cut for cut in self.cuts if cut.id not in ids),
            {**{one.cut.window: one.piece for one in reversed(placed)}, **self.homes},
        )

    def taken(self, piece: int) -> list[tuple[Fraction, Fraction]]:
        """The stretches of a piece (counted from 1) that are cut already, apart and in order."""
        found: list[tuple[Fraction, Fraction]] = []
        for start, end in sorted(one.crosscuts for one in self.fixed if one.piece == piece):
            if found and start <= found[-1][1]:
                found[-1] = (found[-1][0], max(end, found[-1][1]))
            else:
                found.append((start, end))
        return found


def begun_with(fixed: Sequence[Placement], cuts: Sequence[Cut], job: Job, pieces: Sequence[Piece]) -> Begun:
    """The cuts parted into what stays and what is still to be laid.

    A cut with the name of a fixed one is that one. What is left of a panel takes its rows from where those of its fixed
    cuts really lie. A narrow cut whose neighbour is fixed is fixed beside it, unless a flaw or another cut lies there.
    Raises ValueError where a fixed placement names a piece that is not there.
    """
    if any(not 1 <= one.piece <= len(pieces) for one in fixed):
        raise ValueError("a fixed placement lies on a piece that is not there")
    by_id = {one.cut.id: one for one in fixed}
    known = {cut.id: cut for cut in cuts}
    shifts = _row_shifts(fixed, known, job.cloth, pieces)
    neighbours = {known.get(one.cut.id, one.cut).beside: one for one in fixed}
    staying, left = list(fixed), []
    for cut in cuts:
        if cut.id in by_id:
            continue
        cut = _shifted(cut, shifts.get(cut.panel, Fraction(0)), job.cloth)
        beside = neighbours.get(cut.beside) if cut.beside else None
        if beside is not None:
            start = beside.crosscuts[0] + cut.before
            there = Placement(replace(cut, beside=beside.cut.beside), beside.piece, start)
            if _fits_beside(there, beside, staying, job, pieces):
                staying.append(there)
                continue
            cut = replace(cut, beside="", before=Fraction(0), after=Fraction(0))
        left.append(cut)
    homes = {one.cut.window: one.piece for one in reversed(fixed)}
    return Begun(tuple(sorted(staying, key=lambda one: (one.piece, one.start))), tuple(left), homes)


def _row_shifts(
    fixed: Iterable[Placement], known: Mapping[str, Cut], cloth: Cloth, pieces: Sequence[Piece]
) -> dict[str, Fraction]:
    """By panel, how much further along the piece its fixed cuts start in the repeat than the job says."""
    shifts: dict[str, Fraction] = {}
    if cloth.repeat is None:
        return shifts
    for one in sorted(fixed, key=lambda one: one.cut.number):
        said = known.get(one.cut.id, one.cut)
        if said.way is one.cut.way and said.top_edge is one.cut.top_edge:
            real = one.start - pieces[one.piece - 1].first_row
            shifts.setdefault(one.cut.panel, (real - said.phase) % cloth.repeat.along)
    return shifts


def _shifted(cut: Cut, further: Fraction, cloth: Cloth) -> Cut:
    """The cut, starting so much further along in the repeat."""
    if not further or cloth.repeat is None:
        return cut
    along, phase = cloth.repeat.along, (cut.phase + further) % cloth.repeat.along
    if cut.row is None or not cut.top_edge.is_end:
        return replace(cut, phase=phase)
    return replace(cut, phase=phase, row=(cut.row + cut.top_edge.sense * further) % along)


def _fits_beside(
    there: Placement, beside: Placement, staying: Iterable[Placement], job: Job, pieces: Sequence[Piece]
) -> bool:
    cut, piece = there.cut, pieces[there.piece - 1]
    if there.crosscuts != beside.crosscuts or there.end > piece.length:
        return False
    if job.cloth.repeat is not None and (there.start - piece.first_row - cut.phase) % job.cloth.repeat.along:
        return False
    return not is_spoilt(there, piece, job) and not any(overlap(there, other) for other in staying)


def overlap(one: Placement, other: Placement) -> bool:
    """Whether two cuts lie in the same cloth."""
    (near, far), (low, high) = one.cut.across, other.cut.across
    along = one.start < other.end and other.start < one.end
    return one.piece == other.piece and along and near < high and low < far
