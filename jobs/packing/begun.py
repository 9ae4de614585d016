"""What is cut already: where it lies stays, and what is left of its windows follows it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from jobs.model.cloth import Cloth, Piece
from jobs.model.cuts import Cut, Placement
from jobs.model.job import Job
from jobs.packing.items import sound_part
from jobs.packing.rolls import start_after_row


@dataclass(frozen=True)
class Begun:
    """Placements that stay, cuts that are still to be laid, and the piece of each window that is begun."""

    fixed: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    homes: Mapping[str, int]

    def taken(self, piece: int) -> list[tuple[Fraction, Fraction]]:
        """The stretches of a piece (counted from 1) that are cut already, apart and in order."""
        found: list[tuple[Fraction, Fraction]] = []
        for start, end in sorted((one.start, one.end) for one in self.fixed if one.piece == piece):
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
            there = Placement(replace(cut, beside=beside.cut.beside), beside.piece, beside.start)
            if _fits_beside(there, beside, staying, job, pieces):
                staying.append(there)
                continue
            cut = replace(cut, beside="")
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
        if said.way is one.cut.way and said.top_first is one.cut.top_first:
            real = one.start - pieces[one.piece - 1].first_row
            shifts.setdefault(one.cut.panel, (real - start_after_row(said, cloth)) % cloth.repeat.along)
    return shifts


def _shifted(cut: Cut, further: Fraction, cloth: Cloth) -> Cut:
    """The cut, starting so much further along in the repeat."""
    if not further or cloth.repeat is None:
        return cut
    along = cloth.repeat.along
    if cut.after_row is not None:
        return replace(cut, after_row=(cut.after_row + further) % along)
    if cut.row is None:
        return cut
    return replace(cut, row=(cut.row - further if cut.top_first else cut.row + further) % along)


def _fits_beside(
    there: Placement, beside: Placement, staying: Iterable[Placement], job: Job, pieces: Sequence[Piece]
) -> bool:
    cut, piece = there.cut, pieces[there.piece - 1]
    if (cut.length, cut.way) != (beside.cut.length, beside.cut.way) or there.end > piece.length:
        return False
    row = piece.first_row + start_after_row(cut, job.cloth)
    if job.cloth.repeat is not None and (there.start - row) % job.cloth.repeat.along:
        return False
    sound = sound_part(cut, job)
    spoilt = any(
        flaw.start < there.start + sound.end
        and there.start + sound.start < flaw.end
        and (flaw.across is None or (flaw.across[0] < sound.far and sound.near < flaw.across[1]))
        for flaw in piece.flaws
    )
    return not spoilt and not any(_overlap(there, other, job.cloth) for other in staying)


def _overlap(one: Placement, other: Placement, cloth: Cloth) -> bool:
    whole = (Fraction(0), cloth.width)
    (near, far), (low, high) = one.cut.across or whole, other.cut.across or whole
    along = one.start < other.end and other.start < one.end
    return one.piece == other.piece and along and near < high and low < far
