"""Half cuts and panels narrower than the cloth: where they lie across it, alone and side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import permutations

from jobs.cutting.columns import printed_width
from jobs.cutting.made import exact_start
from jobs.cutting.mirroring import HANDS, mirror_line
from jobs.cutting.widths import HALF
from jobs.model.cuts import Cut, Edge, Hand, Interval, Side
from jobs.model.job import Job, allowances_of
from jobs.model.records import dataclass
from jobs.model.resolved import FlatWidth, Pairing
from jobs.model.schema import ZERO
from jobs.model.window import Window

MOST_ORDERS = 3
"""Narrow panels of which every order across the cloth is tried."""


@dataclass(frozen=True)
class Strip:
    """What a cut needs across when it is less than the whole width.

    A half cut is ``joined`` at its side ``joined_at`` and hemmed, ``trim`` cut away, at the other; it takes this
    ``part`` of the cloth width. A narrow panel is hemmed at both, ``width`` wide with its hems, and begins ``phase``
    from the near printed edge, or whole ``step`` lengths further across; an unknown ``step`` (None) keeps it there.
    ``hem`` is what its hemmed sides take, ``seam`` a seam. ``may_be_seamed_at_slit``: a half cut of plain cloth that is
    seamed along its slit, and so reaches less far, is wide enough. ``exact``: it is trimmed to its own width even
    where it lies alone, and shows the ``column`` (from 0) of the print where another shows the first. ``keeps_width``:
    alone it takes the whole width of the cloth.
    """

    joined: bool
    trim: Fraction = ZERO
    width: Fraction = ZERO
    phase: Fraction = ZERO
    step: Fraction | None = ZERO
    may_share: bool = True
    keeps_width: bool = False
    may_be_seamed_at_slit: bool = True
    hem: Fraction = ZERO
    seam: Fraction = ZERO
    part: Fraction = HALF
    joined_at: Edge | None = None
    column: int = 0
    exact: bool = False


@dataclass(frozen=True)
class Draft:
    """A cut as if it took the whole width, and what it needs across when that is less."""

    cut: Cut
    strip: Strip | None = None


def may_share(window: Window, job: Job) -> bool:
    """Whether what is narrow of a window may lie beside other cuts."""
    return window.side_by_side and job.cloth.side_by_side


def narrow_strips(window: Window, job: Job, width: FlatWidth | None, pairing: Pairing) -> dict[Hand, Strip]:
    """The strips of a window whose panels take no more than half the printed width each; empty for all others."""
    if window.made is not None and window.made.exact and width is not None:
        return _exact_strips(window, job, width.needed)
    if job.cloth.border is not None:
        # A strip from elsewhere would have no border at its leading edge.
        return {}
    printed = printed_width(job.cloth)
    needed = width.needed if width else printed / 2
    if 2 * needed > printed or (width is None and window.cuts_per_panel != HALF):
        return {}
    shares = may_share(window, job)
    if width is not None and not shares:
        return {}
    strips = {
        hand: Strip(False, ZERO, needed, phase, _step(job), shares, hem=allowances_of(window, job.allowances).side_hem)
        for hand, phase in _phases(window, job, needed, pairing).items()
    }
    return strips if all(strip.phase + needed <= printed for strip in strips.values()) else {}


def _exact_strips(window: Window, job: Job, needed: Fraction) -> dict[Hand, Strip]:
    """What is cut to its own width, however much of the cloth that is; none where there is no place for it."""
    found = exact_start(window, job.cloth, needed)
    if found is None or window.made is None:
        return {}
    anywhere = window.made.middle is None
    shares, hem = may_share(window, job), allowances_of(window, job.allowances).side_hem
    step = ZERO if anywhere else _step(job)
    strip = Strip(False, ZERO, needed, found[0], step, shares, hem=hem, column=found[1], exact=True)
    return dict.fromkeys(HANDS[window.panels], strip)


def wide_strip(window: Window, job: Job, width: FlatWidth | None) -> Strip | None:
    """What a panel of one cut takes across that is wider than half the print, where something narrow may lie beside it;
    None where nothing may."""
    printed = printed_width(job.cloth)
    if width is None or not may_share(window, job) or not printed < 2 * width.needed < 2 * printed:
        return None
    if job.cloth.repeat is not None or job.cloth.border is not None:
        # Its columns, or the border that leads, say where across the cloth it lies.
        return None
    return Strip(False, ZERO, width.needed, keeps_width=True, hem=allowances_of(window, job.allowances).side_hem)


def _step(job: Job) -> Fraction | None:
    """How far apart narrow panels show the same print: whole columns that lie level; None where it is not known."""
    cloth = job.cloth
    if cloth.repeat is None:
        return ZERO
    return cloth.repeat.across * cloth.drop.denominator if cloth.repeat.across is not None else None


def _phases(window: Window, job: Job, needed: Fraction, pairing: Pairing) -> dict[Hand, Fraction]:
    cloth, step = job.cloth, _step(job)
    phases = dict.fromkeys(HANDS[window.panels], ZERO)
    if not step or cloth.repeat is None or cloth.repeat.across is None:
        return phases
    if pairing is Pairing.TURNED_SLID:
        phases[Hand.RIGHT] = cloth.repeat.across / 2
    elif pairing in (Pairing.OWN_IMAGE, Pairing.OWN_SLID):
        # Left edges at p and q, both panels as wide: the leading edges mirror when p + q + width = 2 mirror line.
        phases[Hand.RIGHT] = (2 * mirror_line(cloth) - needed - 2 * cloth.near_selvedge) % step
    return phases


def alone(draft: Draft, job: Job) -> Cut:
    """The cut of a draft with a length of cloth to itself."""
    strip = draft.strip
    if strip is None or strip.keeps_width:
        return draft.cut
    return half(draft, job, joined_at(draft)) if strip.joined else placed(draft, strip.phase, job)


def side_by_side(drafts: Sequence[Draft], job: Job) -> tuple[Cut, ...] | None:
    """The cuts of several drafts beside each other across the cloth, in the order of the drafts; None where there is no
    room for all, each on its columns.

    A half cut joined at its far side is the far half of the length, so that its seam is that of a whole cut; one of
    plain cloth that is wide enough when it is seamed along the slit may be either.
    """
    halves = [draft for draft in drafts if strip_of(draft).joined]
    rest = [draft for draft in drafts if not strip_of(draft).joined]
    if len(halves) > 2 or sum(strip_of(draft).part for draft in halves) > 1:
        return None
    for places in permutations((Edge.NEAR, Edge.FAR), len(halves)):
        # A half cut lies where it is joined to a whole one sooner than along the slit.
        if not all(may_lie(draft, place, job) for draft, place in zip(halves, places, strict=True)):
            continue
        between = _between(rest, dict(zip(places, halves, strict=True)), job)
        if between is not None:
            found = {draft.cut.id: half(draft, job, place) for draft, place in zip(halves, places, strict=True)}
            found |= {cut.id: cut for cut in between}
            return tuple(found[draft.cut.id] for draft in drafts)
    return None


def may_lie(draft: Draft, place: Edge, job: Job) -> bool:
    """Whether a half cut may be the near, or the far, half of a length."""
    at_slit = job.cloth.repeat is None and strip_of(draft).may_be_seamed_at_slit
    return joined_at(draft) is place or at_slit


def _between(drafts: Sequence[Draft], halves: Mapping[Edge, Draft], job: Job) -> list[Cut] | None:
    """Narrow panels one after another across what the halves leave of the print."""
    cloth, low, high = job.cloth, ZERO, printed_width(job.cloth)
    if Edge.NEAR in halves:
        low = strip_of(halves[Edge.NEAR]).part * cloth.width - cloth.near_selvedge
    if Edge.FAR in halves:
        high -= strip_of(halves[Edge.FAR]).part * cloth.width - cloth.far_selvedge
    if sum((strip_of(draft).width for draft in drafts), ZERO) > high - low:
        return None
    widest = sorted(drafts, key=lambda draft: (-strip_of(draft).width, draft.cut.id))
    for order in permutations(widest) if len(widest) <= MOST_ORDERS else [tuple(widest)]:
        at, found = low, list[Cut]()
        for draft in order:
            strip = strip_of(draft)
            start = _next_start(strip, at)
            if start is None or start + strip.width > high:
                break
            found.append(placed(draft, start, job))
            at = start + strip.width
        else:
            return found
    return None


def joined_at(draft: Draft) -> Edge:
    return strip_of(draft).joined_at or draft.cut.leading_edge


def half(draft: Draft, job: Job, place: Edge) -> Cut:
    """A half cut as the near or the far part of the cloth; on plain cloth its seam may lie along the slit."""
    strip, width = strip_of(draft), job.cloth.width
    wide = strip.part * width
    across = (ZERO, wide) if place is Edge.NEAR else (width - wide, width)
    cut, leads = replace(draft.cut, across=across, parted=across), joined_at(draft) is draft.cut.leading_edge
    if joined_at(draft) is not place:
        at_slit = Side(strip.seam, joined=True)
        return replace(cut, leading_side=at_slit) if leads else replace(cut, return_side=at_slit)
    hemmed = Side(strip.trim + strip.hem, strip.hem, trim=strip.trim)
    return replace(cut, return_side=hemmed) if leads else replace(cut, leading_side=hemmed)


def strip_of(draft: Draft) -> Strip:
    if draft.strip is None:
        raise ValueError(f"{draft.cut.id} takes the whole width")
    return draft.strip


def _next_start(strip: Strip, after: Fraction) -> Fraction | None:
    """The first place from ``after`` on where the strip shows its print, from the near printed edge."""
    if strip.step is None:
        return strip.phase if strip.phase >= after else None
    return after + (strip.phase - after) % strip.step if strip.step else after


def placed(draft: Draft, start: Fraction, job: Job) -> Cut:
    """A narrow panel so far from the near printed edge; the selvedge beside it is its own."""
    width, selvedge, printed = strip_of(draft).width, job.cloth.near_selvedge, printed_width(job.cloth)
    near, far = selvedge + start, selvedge + start + width
    exact = strip_of(draft).exact
    across: Interval = (near if start or exact else ZERO, far if start + width < printed or exact else job.cloth.width)
    hem = strip_of(draft).hem
    sides = {Edge.NEAR: Side(near - across[0] + hem, hem), Edge.FAR: Side(across[1] - far + hem, hem)}
    cut = draft.cut
    leading, returning = sides[cut.leading_edge], sides[cut.return_edge]
    return replace(cut, across=across, parted=across, leading_side=leading, return_side=returning)
