"""The two sides of a cut: seamed to its neighbour, or hemmed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.columns import seams
from jobs.model.cuts import Selvedge, Side
from jobs.model.job import Job
from jobs.model.schema import ZERO


@dataclass(frozen=True)
class Edge:
    """Where a strip of cloth ends: across from the near selvedge, and which of its sides that is."""

    at: Fraction
    is_near: bool

    def inward(self, distance: Fraction) -> Fraction:
        """The place this far inside the strip."""
        return self.at + distance if self.is_near else self.at - distance


def printed_edge(job: Job, is_near: bool) -> Edge:
    """The inner edge of the selvedge strip."""
    selvedge = job.cloth.selvedge
    return Edge(selvedge if is_near else job.cloth.width - selvedge, is_near)


def hemmed(job: Job, edge: Edge, trim: Fraction = ZERO) -> Side:
    """A side that is hemmed, with ``trim`` cut away first."""
    line = edge.inward(trim + job.allowances.side_hem)
    return Side(line, trim=edge.inward(trim) if trim else None)


def seamed(job: Job, is_near: bool) -> Side:
    """A side that is joined along the cloth's seam line; what lies beyond the seam allowance is trimmed."""
    lines = seams(job.cloth, job.allowances.seam)
    edge, line = printed_edge(job, is_near), lines.near if is_near else lines.far
    beyond = abs(line - edge.at) - job.allowances.seam
    return Side(line, joined=True, trim=edge.inward(beyond) if beyond else None)


def raw_seam(job: Job, edge: Edge) -> Side:
    """A side that is joined along a cut edge, one seam allowance inside it."""
    return Side(edge.inward(job.allowances.seam), joined=True)


def by_place(leads: Selvedge, leading: Side, returning: Side) -> tuple[Side, Side]:
    """The near and the far side, from the leading and the returning one."""
    return (leading, returning) if leads is Selvedge.NEAR else (returning, leading)
