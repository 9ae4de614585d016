"""The cuts of one window, panel by panel, before half cuts and narrow panels are laid side by side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from jobs.cutting.columns import seams
from jobs.cutting.hands import HANDS, leading_selvedge, top_is_first
from jobs.cutting.mirroring import Trims, fit_of, pairing_of
from jobs.cutting.narrow import Strip, narrow_strips
from jobs.cutting.rows import below_top, first_row, row_step
from jobs.cutting.sides import by_place, hemmed, printed_edge, seamed
from jobs.cutting.sizes import cut_length, handbook_cut
from jobs.cutting.widths import HALF, cuts_for, flat_width
from jobs.model.cuts import Cut, Hand, Selvedge, Way
from jobs.model.job import Job
from jobs.model.schema import ZERO
from jobs.model.window import Window
from jobs.prints.pairs import Pairing, hand_ways

ONE = Fraction(1)


@dataclass(frozen=True)
class Draft:
    """A cut, and what it needs across when that is less than the whole width."""

    cut: Cut
    strip: Strip | None = None


def panel_cuts(window: Window, job: Job) -> Fraction:
    """Whole and half cuts of one panel: as written, or worked out from the rod and what trimming loses."""
    if narrow_strips(window, job):
        return HALF
    width = flat_width(window, job)
    if width is None:
        return max(ONE, window.cuts_per_panel or ONE)
    return max(ONE, cuts_for(width.needed + fit_of(window, job).lost, job))


def window_drafts(window: Window, slug: str, job: Job, windows: Mapping[str, Window]) -> list[Draft]:
    """All cuts of a window, left panel before right, leading cut first."""
    fit, strips = fit_of(window, job), narrow_strips(window, job)
    pairing = pairing_of(window, job)
    drafts: list[Draft] = []
    for hand, way in hand_ways(job.cloth, window.hang, HANDS[window.panels]).items():
        first = _first_cut(window, slug, job, hand, way, below_top(window, windows))
        right = hand is Hand.RIGHT
        if strips:
            slide = pairing is Pairing.SLID_ALONG and right
            drafts.append(Draft(_lower(first, _half(job) if slide else ZERO, job), strips[hand]))
            continue
        whole = _lower(first, fit.row_shift if right else ZERO, job)
        drafts += _panel(whole, panel_cuts(window, job), fit.trims.get(hand, Trims()), window, job)
    return drafts


def _half(job: Job) -> Fraction:
    return job.cloth.repeat.along / 2 if job.cloth.repeat else ZERO


def _lower(cut: Cut, by: Fraction, job: Job) -> Cut:
    """The same cut with its rows lower below the top edge."""
    if cut.row is None or job.cloth.repeat is None:
        return cut
    return replace(cut, row=(cut.row + by) % job.cloth.repeat.along)


def _first_cut(window: Window, slug: str, job: Job, hand: Hand, way: Way, depth: Fraction) -> Cut:
    cloth, allowances = job.cloth, job.allowances
    length = cut_length(window.finished_length, allowances, cloth.shrinkage)
    top_first = top_is_first(way, cloth.print.top_towards)
    return Cut(
        id=f"{slug}-{hand}",
        window=window.name,
        hand=hand,
        panel=f"{window.name}, {hand}",
        number=1,
        of=1,
        length=length,
        handbook=handbook_cut(length, cloth.repeat.along if cloth.repeat else None),
        row=first_row(depth, allowances, cloth),
        way=way,
        top_first=top_first,
        leading_selvedge=leading_selvedge(hand, way, top_first),
        heading=allowances.heading / (1 - cloth.shrinkage),
        hem=allowances.hem / (1 - cloth.shrinkage),
    )


def _panel(first: Cut, count: Fraction, trims: Trims, window: Window, job: Job) -> list[Draft]:
    """The cuts of a panel from its first one: whole cuts lead, a half cut comes last."""
    leads, of = leading_selvedge(first.hand, first.way, first.top_first), int(-(-count // 1))
    step = row_step(job.cloth, seams(job.cloth, job.allowances.seam).columns, first.top_first, leads)
    lead_near = leads is Selvedge.NEAR
    drafts: list[Draft] = []
    for number in range(1, of + 1):
        leading = hemmed(job, printed_edge(job, lead_near), trims.leading) if number == 1 else seamed(job, lead_near)
        returning = (
            hemmed(job, printed_edge(job, not lead_near), trims.returning)
            if number == of
            else seamed(job, not lead_near)
        )
        near, far = by_place(leads, leading, returning)
        name = first.id if of == 1 else f"{first.id}-{number}"
        cut = replace(first, id=name, number=number, of=of, near_side=near, far_side=far)
        is_half = number == of and count.denominator == 2
        may_share = window.side_by_side and job.cloth.side_by_side
        strip = Strip(leads, trims.returning, may_share=may_share) if is_half else None
        drafts.append(Draft(_lower(cut, (number - 1) * step, job), strip))
    return drafts
