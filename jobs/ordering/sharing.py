"""Which of the ways to share lengths of cloth an order goes by."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from jobs.model.cuts import Cut
from jobs.model.problems import JobRefused
from jobs.model.resolved import ResolvedJob
from jobs.ordering.guaranteed import guaranteed_length
from jobs.ordering.splitting import parts
from jobs.packing.items import lanes_of


def shared_for_order(resolved: ResolvedJob) -> ResolvedJob:
    """The job with its cuts in the way to share that needs least cloth wherever in the repeat a piece begins.

    Where not all ways are told, the first that leaves no window too long for the pieces the cloth is sold in.
    """
    if len(resolved.ways) < 2:
        return resolved
    if not resolved.all_ways:
        return resolved.sharing(next((way for way in resolved.ways if _can_be_bought(resolved, way)), resolved.cuts))
    best, least = resolved.cuts, guaranteed_length(resolved.cuts, resolved.job.cloth)
    for way in resolved.ways[1:]:
        # No piece is shorter than what lies on it, and the ways come in the order of that.
        if taken(way) >= least:
            break
        needs = guaranteed_length(way, resolved.job.cloth)
        if needs < least:
            best, least = way, needs
    return resolved.sharing(best)


def taken(cuts: Sequence[Cut]) -> Fraction:
    """The lengths of cloth that cuts take, those side by side counted once."""
    return sum((lane[0].shared_length for lane in lanes_of(cuts)), Fraction(0))


def _can_be_bought(resolved: ResolvedJob, cuts: Sequence[Cut]) -> bool:
    try:
        parts(resolved.job, cuts)
    except JobRefused:
        return False
    return True
