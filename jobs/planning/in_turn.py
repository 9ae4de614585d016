"""The cuts of a job one after another on one endless piece: enough for what hangs, and never a search."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.model.cuts import Cut, Placement
from jobs.model.piece import Piece
from jobs.model.plan import PieceUse, Plan
from jobs.model.resolved import ResolvedJob
from jobs.model.schema import ZERO


def laid_in_turn(resolved: ResolvedJob, cuts: Iterable[Cut]) -> Plan:
    """A plan of some cuts of a job, each on its row on a piece as long as that takes, a row at its first end.

    How they hang is as in every plan; where they lie is not where they are cut.
    """
    repeat = resolved.job.cloth.repeat
    found: list[Placement] = []
    at = ZERO
    for cut in cuts:
        start = at + (cut.phase - at) % repeat.along if repeat is not None else at
        found.append(Placement(cut, 1, start))
        at = found[-1].end
    use = PieceUse(1, Piece(at), at, ())
    return Plan(
        resolved=resolved,
        cuts=tuple(one.cut for one in found),
        placements=tuple(found),
        pieces=(use,),
        stops=(),
        used=at,
        bound=ZERO,
        proved_shortest=False,
        short=ZERO,
        assumed_piece=True,
    )
