"""From rod and fullness to the flat width of a panel, and to the number of cuts in it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import count as count_from

from jobs.cutting.columns import printed_width
from jobs.model.choices import Panels, ReturnsAdded
from jobs.model.job import Allowances, Job
from jobs.model.resolved import Enough, FlatWidth, Seams
from jobs.model.window import Window

HALF = Fraction(1, 2)
RETURNS = {Panels.PAIR: 2, Panels.LEFT: 1, Panels.RIGHT: 1, Panels.WHOLE: 2}


def flat_width(window: Window, job: Job) -> FlatWidth | None:
    """The flat width of a window whose rod is given, None where the cuts are; returns before or after fullness.

    overall = rod + overlap + returns, flat = overall x fullness; or the returns are added after the fullness.
    """
    if window.rod is None:
        return None
    returns = RETURNS[window.panels] * window.returns
    before = job.returns_added is ReturnsAdded.BEFORE
    overall = window.rod + window.overlap + (returns if before else 0)
    flat = overall * window.fullness + (0 if before else returns)
    panels = 2 if window.panels is Panels.PAIR else 1
    return FlatWidth(overall, flat, panels, flat / panels + 2 * job.allowances.side_hem)


def cut_length(finished: Fraction, allowances: Allowances, shrinkage: Fraction) -> Fraction:
    """(finished length + heading + hem) / (1 - shrinkage)."""
    return (finished + allowances.heading + allowances.hem) / (1 - shrinkage)


def handbook_cut(length: Fraction, repeat_along: Fraction | None) -> Fraction:
    """The length rounded up to whole repeats; an exact multiple takes nothing extra, plain cloth neither."""
    return length if repeat_along is None else -(-length // repeat_along) * repeat_along


def cuts_for(needed: Fraction, job: Job, lines: Seams) -> Fraction:
    """How many cuts give a panel this width, rounded up to whole or half cuts.

    Up to one cut there is no seam, and all of the printed width counts. Beyond, plain cloth loses a seam allowance at
    each joined edge; of patterned cloth each cut gives the whole columns between its seams. Raises ValueError where a
    cut gives nothing.
    """
    printed = printed_width(job.cloth)
    if needed <= printed:
        return HALF if 2 * needed <= printed else Fraction(1)
    if job.cloth.repeat is None:
        return _plain_cuts(needed, printed, 2 * job.allowances.seam)
    if not lines.columns:
        raise ValueError("no whole column lies between the seams")
    return max(3 * HALF, -(-2 * needed // lines.between) * HALF)


def _plain_cuts(needed: Fraction, printed: Fraction, lost_at_a_seam: Fraction) -> Fraction:
    if lost_at_a_seam >= printed:
        raise ValueError("the seams take all of the cloth")
    whole = -((lost_at_a_seam - needed) // (printed - lost_at_a_seam))
    short = whole - HALF
    return short if joined_width(short, printed, lost_at_a_seam) >= needed else Fraction(whole)


def joined_width(cuts: Fraction, printed: Fraction, lost_at_a_seam: Fraction) -> Fraction:
    """The width that so many cuts of plain cloth give once they are joined."""
    return cuts * printed - (-(-cuts // 1) - 1) * lost_at_a_seam


def enough_to_outer_edges(needed: Fraction, cuts: Fraction, job: Job, lines: Seams) -> Enough | None:
    """Fewer cuts for a panel of patterned cloth, where the cloth outside its outermost seams makes up for the rest.

    ``cuts`` is how many it has by its whole columns; None where no fewer would do.
    """
    if job.cloth.repeat is None or cuts <= 1:
        return None
    enough = next(count for count in _from_one_and_a_half() if reached(count, job, lines) >= needed)
    return Enough(enough, reached(enough, job, lines)) if enough < cuts else None


def _from_one_and_a_half() -> Iterator[Fraction]:
    return (Fraction(halves, 2) for halves in count_from(3))


def reached(cuts: Fraction, job: Job, lines: Seams) -> Fraction:
    """The width of so many joined cuts of patterned cloth (1 1/2 or more), from one outer printed edge to the other.

    The leading cut reaches from the printed edge to its seam, a half cut from its seam to the slit in the middle.
    """
    printed, each = printed_width(job.cloth), lines.between
    if cuts.denominator == 1:
        return printed + (cuts - 1) * each
    return (printed + each) / 2 + (cuts - Fraction(3, 2)) * each + each / 2
