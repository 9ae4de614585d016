"""From rod and fullness to the flat width of a panel, and to the number of cuts in it."""

from __future__ import annotations

from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.model.choices import Panels, ReturnsAdded
from jobs.model.cloth import Cloth
from jobs.model.job import Allowances, Job, allowances_of
from jobs.model.resolved import FlatWidth, Seams
from jobs.model.window import Window

HALF = Fraction(1, 2)
RETURNS = {Panels.PAIR: 2, Panels.LEFT: 1, Panels.RIGHT: 1, Panels.WHOLE: 2}


def flat_width(window: Window, job: Job) -> FlatWidth | None:
    """The flat width of a window whose rod is given, None where the cuts are; returns before or after fullness.

    overall = rod + overlap + returns, flat = overall x fullness; or the returns are added after the fullness. What is
    derived from another window has its flat width from there.
    """
    panels = 2 if window.panels is Panels.PAIR else 1
    side_hem = allowances_of(window, job.allowances).side_hem
    if window.flat is not None:
        return FlatWidth(panels * window.flat, panels * window.flat, panels, window.flat + 2 * side_hem)
    if window.rod is None:
        return None
    returns = RETURNS[window.panels] * window.returns
    before = job.returns_added is ReturnsAdded.BEFORE
    overall = window.rod + window.overlap + (returns if before else 0)
    flat = overall * window.fullness + (0 if before else returns)
    return FlatWidth(overall, flat, panels, flat / panels + 2 * side_hem)


def cut_length(finished: Fraction, allowances: Allowances, shrinkage: Fraction) -> Fraction:
    """(finished length + heading + hem) / (1 - shrinkage)."""
    return (finished + allowances.heading + allowances.hem) / (1 - shrinkage)


def handbook_cut(length: Fraction, repeat_along: Fraction | None) -> Fraction:
    """The length rounded up to whole repeats; an exact multiple takes nothing extra, plain cloth neither."""
    return length if repeat_along is None else -(-length // repeat_along) * repeat_along


def cuts_for(needed: Fraction, cloth: Cloth, lines: Seams) -> Fraction:
    """How many cuts give a panel this width, from one outer printed edge to the other, rounded up to whole or halves.

    Raises ValueError where cuts would have to be joined and their seams leave nothing.
    """
    printed = printed_width(cloth)
    if needed <= printed:
        return HALF if 2 * needed <= printed else Fraction(1)
    if lines.between <= 0:
        raise ValueError("the seams take all of the cloth")
    whole = -((needed - reached(Fraction(1), cloth, lines)) // -lines.between) + 1
    halves = max(2, -((needed - reached(HALF, cloth, lines)) // -lines.between) + 1) - HALF
    return min(Fraction(whole), halves)


def reached(cuts: Fraction, cloth: Cloth, lines: Seams) -> Fraction:
    """The width of so many joined cuts, from one outer printed edge to the other.

    The leading cut reaches from its printed edge to the seam at its other side, the last one back to a printed edge, or
    as a half cut to the slit in the middle of the cloth. Each cut more brings what lies between two seams. Of cloth
    with unlike selvedges the wider one is taken to lead, as it does in one hand.
    """
    if cuts.denominator == 1:
        return printed_width(cloth) + (cuts - 1) * lines.between
    return cloth.width / 2 - max(cloth.near_selvedge, cloth.far_selvedge) + (cuts - HALF) * lines.between


def lost_at_a_slit(cloth: Cloth, lines: Seams, seam: Fraction) -> Fraction:
    """How much narrower a panel is whose half cut is seamed along its slit, not at its selvedge."""
    return seam + max(cloth.near_selvedge, cloth.far_selvedge) - min(lines.near, lines.far)
