"""The way to share lengths of cloth that suits the pieces, found by trying, and what is proved of all ways."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from jobs.model.cuts import Cut
from jobs.model.piece import Piece
from jobs.model.resolved import ResolvedJob
from jobs.ordering.sharing import taken
from jobs.packing.items import lanes_of
from jobs.packing.pack import Packed, pack
from jobs.packing.shared_bound import least_shared
from jobs.packing.watch import Progress

MOST_TRIED = 60
"""Ways to share that are packed for one plan."""
MOST_LENGTHS = 16
"""Lengths of cloth up to which more than one way is packed."""


Found = tuple[tuple[Cut, ...], Packed]
"""Cuts in one way to share, and their placements."""


def packed_sharing(
    resolved: ResolvedJob,
    pieces: Sequence[Piece],
    tell: Callable[[Progress], None] | None = None,
    *,
    until_it_fits: bool = False,
) -> Found:
    """The cuts in the way to share that is found to suit the pieces best, and their placements.

    Its bounds hold for every way to share: where all were told, and each was packed or cannot be better, they are those
    of its placements. Where the cuts do not fit in one way the others are tried.
    """
    job = resolved.job
    first, *others = [resolved.cuts, *(way for way in resolved.ways if way != resolved.cuts)]
    best: Found = first, pack(first, job, pieces, tell=tell, until_it_fits=until_it_fits)
    if resolved.all_ways and not others:
        return best
    floor = least_shared(first, resolved.shares, job, pieces, _opened(best[1]))
    few = resolved.all_ways and len(lanes_of(first)) <= MOST_LENGTHS
    every = few and not any(flaw.across is not None for piece in pieces for flaw in piece.flaws)
    for tried, way in enumerate(others):
        if best[1].stopped or (not best[1].short and (until_it_fits or not few)):
            every = False
            break
        if _cannot_be_better(way, best[1], floor[1], resolved):
            continue
        if tried >= MOST_TRIED:
            every = False
            break
        more = pack(way, job, pieces, until_it_fits=until_it_fits)
        every = every and more.used == more.bound
        best = min(best, (way, more), key=lambda one: (one[1].short, _opened(one[1]), one[1].used))
    cuts, packed = best
    if every or packed.short:
        return best
    floor = least_shared(first, resolved.shares, job, pieces, _opened(packed))
    bound, opened = min(packed.used, floor[0]), min(packed.least_opened, floor[1])
    return cuts, replace(packed, bound=bound, least_opened=opened)


def _opened(packed: Packed) -> int:
    return len({one.piece for one in packed.placements})


def _cannot_be_better(way: Sequence[Cut], best: Packed, least_opened: int, resolved: ResolvedJob) -> bool:
    """Whether the lengths of a way alone come to as much as the best, on as few pieces as any way needs."""
    opened = _opened(best)
    if best.short or opened > max(1, least_opened):
        return False
    return resolved.job.allowances.squaring * opened + taken(way) >= best.used
