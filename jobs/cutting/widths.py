"""From rod and fullness to the flat width of a panel, and to the number of cuts in it."""

from __future__ import annotations

from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.model.allowances import Allowances
from jobs.model.choices import HalfAt, Panels, ReturnsAdded
from jobs.model.cloth import Cloth
from jobs.model.job import Job, allowances_of
from jobs.model.records import dataclass
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


def cuts_for(needed: Fraction, cloth: Cloth, lines: Seams, half_at: HalfAt = HalfAt.RETURN) -> Fraction:
    """How many cuts give a panel this width, from one outer printed edge to the other, rounded up to whole or halves.

    Raises ValueError where cuts would have to be joined and their seams leave nothing.
    """
    printed = printed_width(cloth)
    if needed <= printed:
        return HALF if 2 * needed <= printed else Fraction(1)
    if lines.between <= 0:
        raise ValueError("the seams take all of the cloth")
    # Beyond the first cut each brings what lies between two seams; so this is never too many.
    count = max(3, int(2 * ((needed - printed) // lines.between))) * HALF
    while reached(count, cloth, lines, half_at) < needed or not can_be_split(count, half_at):
        count += HALF
    return count


def can_be_split(cuts: Fraction, half_at: HalfAt) -> bool:
    """Whether so many cuts can be arranged: a whole one in the middle has as much, up to half a cut, at either side."""
    return half_at is not HalfAt.BOTH or cuts.denominator == 1 or (cuts - HALF) % 2 == 1


def reached(cuts: Fraction, cloth: Cloth, lines: Seams, half_at: HalfAt = HalfAt.RETURN) -> Fraction:
    """The width of so many joined cuts, from one outer printed edge to the other.

    The leading cut reaches from its printed edge to the seam at its other side, the last one back to a printed edge, or
    as a half cut to the slit in the middle of the cloth. Each cut more brings what lies between two seams. Of cloth
    with unlike selvedges the wider one is taken to lead, as it does in one hand. With a whole cut in the middle both
    outer pieces end at a slit where they are halves, or a half that is split.
    """
    if half_at is HalfAt.BOTH and cuts % 2 != 1:
        middle, wide = cuts - cuts % 1, cloth.width / 2
        if cuts.denominator == 1:
            middle, wide = cuts - 1, cloth.width
        return middle * lines.between + wide - lines.near - lines.far
    if cuts.denominator == 1:
        return printed_width(cloth) + (cuts - 1) * lines.between
    return cloth.width / 2 - max(cloth.near_selvedge, cloth.far_selvedge) + (cuts - HALF) * lines.between


@dataclass(frozen=True)
class Share:
    """One cut of a panel: the ``part`` of the cloth width it takes.

    ``leads`` tells of one that is not whole that it lies at the leading side, and so is joined at its return side.
    """

    part: Fraction = Fraction(1)
    leads: bool = False


def arranged(cuts: Fraction, half_at: HalfAt) -> tuple[Share, ...]:
    """The cuts of a panel from its leading edge outwards."""
    wholes = (Share(),) * int(cuts)
    if half_at is HalfAt.BOTH and cuts % 2 != 1:
        part = HALF if cuts.denominator == 1 else HALF / 2
        wholes = wholes[1:] if cuts.denominator == 1 else wholes
        return (Share(part, leads=True), *wholes, Share(part))
    if cuts.denominator == 1:
        return wholes
    return (Share(HALF, leads=True), *wholes) if half_at is HalfAt.LEADING else (*wholes, Share(HALF))


def lost_at_a_slit(cloth: Cloth, lines: Seams, seam: Fraction) -> Fraction:
    """How much narrower a panel is whose half cut is seamed along its slit, not at its selvedge."""
    return seam + max(cloth.near_selvedge, cloth.far_selvedge) - min(lines.near, lines.far)
