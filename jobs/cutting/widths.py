"""From rod and fullness to the number of cuts in a panel."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.columns import printed_width, seams
from jobs.model.choices import Panels, ReturnsAdded
from jobs.model.job import Job
from jobs.model.window import Window

HALF = Fraction(1, 2)
RETURNS = {Panels.PAIR: 2, Panels.LEFT: 1, Panels.RIGHT: 1, Panels.WHOLE: 2}


@dataclass(frozen=True)
class FlatWidth:
    """The width of a window's panels laid flat, in inches.

    ``overall`` is the track that is covered; ``flat`` that with its fullness, for all panels of the window; ``needed``
    one panel with its side hems.
    """

    overall: Fraction
    flat: Fraction
    panels: int
    needed: Fraction


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


def cuts_for(needed: Fraction, job: Job) -> Fraction:
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
    between = seams(job.cloth, job.allowances.seam)
    if not between.columns:
        raise ValueError("no whole column lies between the seams")
    return max(3 * HALF, -(-2 * needed // (between.far - between.near)) * HALF)


def _plain_cuts(needed: Fraction, printed: Fraction, lost_at_a_seam: Fraction) -> Fraction:
    if lost_at_a_seam >= printed:
        raise ValueError("the seams take all of the cloth")
    whole = -((lost_at_a_seam - needed) // (printed - lost_at_a_seam))
    short = whole - HALF
    return short if joined_width(short, printed, lost_at_a_seam) >= needed else Fraction(whole)


def joined_width(cuts: Fraction, printed: Fraction, lost_at_a_seam: Fraction) -> Fraction:
    """The width that so many cuts of plain cloth give once they are joined."""
    return cuts * printed - (-(-cuts // 1) - 1) * lost_at_a_seam
