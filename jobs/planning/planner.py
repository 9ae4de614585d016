"""From a job to a plan: cuts laid on the pieces, what is left, and the stops at the table."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from jobs.model.cuts import Cut, Placement
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import PieceUse, Plan
from jobs.model.resolved import ResolvedJob
from jobs.ordering import assumed, order
from jobs.packing.leftovers import leftovers, placed_things, strips_beside, with_rows
from jobs.packing.pack import pack
from jobs.packing.watch import Progress
from jobs.planning.sharing import packed_sharing
from jobs.planning.stops import stops

__all__ = ["Progress", "fits", "plan_cuts", "plan_job"]


def plan_job(
    job: Job, table_length: Fraction | None = None, *, progress: Callable[[Progress], None] | None = None
) -> Plan:
    """The plan of the job on its pieces, or on pieces as ordered with a row of the print at their first end.

    Where its print is not known, the plan is that of the dearest answers, and its job says so in a notice.

    ``table_length`` (inches) takes the place of the job's own table. Cuts that do not fit give a plan with ``short``
    above zero, where ``used`` is what the cuts need and nothing is placed. ``progress`` hears of a search that takes
    longer than a second; an interrupt during the search gives the best plan so far. Raises JobRefused with every
    problem.
    """
    return plan_cuts(assumed(job).resolved, table_length, progress=progress)


def fits(resolved: ResolvedJob, table_length: Fraction | None = None) -> bool:
    """Whether the cuts fit the cloth of the job: what ``plan_cuts`` would say, searched for less long.

    Where it is true ``plan_cuts`` finds room as well; where it is false a longer search might. Raises JobRefused as
    ``plan_cuts`` and KeyboardInterrupt when the search was interrupted before it knew.
    """
    job, pieces = resolved.job, _pieces(resolved)
    packed = packed_sharing(resolved, pieces, until_it_fits=True)[1]
    if packed.short and packed.stopped:
        raise KeyboardInterrupt
    if not packed.short:
        stops(packed.placements, pieces, job, _table(job, table_length))
    return not packed.short


def _pieces(resolved: ResolvedJob) -> tuple[Piece, ...]:
    """The pieces of the job, or what is ordered for it."""
    return resolved.job.cloth.pieces or tuple(Piece(length) for length in order(resolved).pieces)


def _table(job: Job, table_length: Fraction | None) -> Fraction | None:
    return table_length if table_length is not None else job.table.length if job.table else None


def plan_cuts(
    resolved: ResolvedJob,
    table_length: Fraction | None = None,
    *,
    cuts: Sequence[Cut] | None = None,
    fixed: Sequence[Placement] = (),
    progress: Callable[[Progress], None] | None = None,
) -> Plan:
    """As ``plan_job``, of a job that is worked out already, around what is ``fixed``: cut already, or to stay.

    ``cuts`` are laid in place of those of the job.

    Fixed placements stay as they are, each in place of the cut of its name, and no other cut touches their stretch of
    the cloth; one whose name is not among the cuts takes its cloth all the same. What is left of a panel takes its rows
    from where those of its fixed cuts really lie, what is left of a window comes from their piece wherever that holds
    it, and a narrow cut stays beside a fixed neighbour. Where the rest does not fit, ``placements`` are the fixed ones
    alone. Cuts that the job wishes somewhere lie there, as ``pack`` says. Raises ValueError where one lies on a piece
    that is not there.
    """
    job, pieces = resolved.job, _pieces(resolved)
    if cuts is None and not fixed:
        cuts, packed = packed_sharing(resolved, pieces, progress)
    else:
        cuts = resolved.cuts if cuts is None else cuts
        packed = pack(cuts, job, pieces, fixed=fixed, tell=progress)
    placements = tuple(fixed) if packed.short else packed.placements
    uses = _uses(job, pieces, placements)
    things, unplaced = placed_things(job, uses) if not packed.short else ((), ())
    return Plan(
        resolved=resolved,
        cuts=_cuts(cuts, packed.placements),
        placements=placements,
        pieces=uses,
        stops=stops(placements, pieces, job, _table(job, table_length)),
        used=packed.used,
        bound=packed.bound,
        proved_shortest=packed.used == packed.bound,
        short=packed.short,
        assumed_piece=not job.cloth.pieces,
        stopped=packed.stopped,
        spread=packed.spread,
        mixed_rooms=packed.mixed_rooms,
        wanted=things,
        unplaced=unplaced,
        unmet=packed.unmet,
        least_opened=packed.least_opened,
    )


def _cuts(cuts: Sequence[Cut], placements: Sequence[Placement]) -> tuple[Cut, ...]:
    """The cuts in their order as they are laid, those that only a fixed placement knows after them."""
    laid = {placement.cut.id: placement.cut for placement in placements}
    named = {cut.id: laid.get(cut.id, cut) for cut in cuts}
    return (*named.values(), *(cut for name, cut in laid.items() if name not in named))


def _uses(job: Job, pieces: Sequence[Piece], placements: Sequence[Placement]) -> tuple[PieceUse, ...]:
    on_piece: dict[int, list[Placement]] = {}
    for placement in placements:
        on_piece.setdefault(placement.piece, []).append(placement)
    return tuple(_use(job, number, piece, on_piece.get(number, [])) for number, piece in enumerate(pieces, 1))


def _use(job: Job, number: int, piece: Piece, placements: Sequence[Placement]) -> PieceUse:
    left = leftovers(piece, job.allowances.squaring, placements)
    beside = strips_beside(piece, job.cloth, placements)
    return PieceUse(
        number=number,
        piece=piece,
        used=max((placement.end for placement in placements), default=Fraction(0)),
        leftovers=with_rows(left, piece, job.cloth),
        beside=with_rows(beside, piece, job.cloth),
    )
