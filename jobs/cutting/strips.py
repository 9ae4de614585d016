"""Half cuts and panels narrower than the cloth: where they lie across it, alone and side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import permutations
from typing import TypeAlias

from jobs.cutting.columns import printed_width, selvedge_at
from jobs.cutting.hands import on_other_hand
from jobs.cutting.made import exact_start
from jobs.cutting.mirroring import HANDS, mirror_line
from jobs.cutting.widths import HALF
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Interval, Side
from jobs.model.job import Job, allowances_of
from jobs.model.records import dataclass
from jobs.model.resolved import FlatWidth, Pairing
from jobs.model.schema import ZERO
from jobs.model.window import Window

MOST_ORDERS = 3
"""Narrow panels of which every order across the cloth is tried."""


@dataclass(frozen=True)
class Half:
    """What a cut takes that is a ``part`` of the cloth width: joined at one side, slit and hemmed at the other, where
    ``trim`` is cut away first.

    ``hem`` is what its hemmed side takes, ``seam`` a seam. ``may_be_seamed_at_slit``: on plain cloth it may be seamed
    along its slit as well, and so reaches less far, where it is wide enough so.
    """

    part: Fraction
    joined_at: Edge
    trim: Fraction = ZERO
    hem: Fraction = ZERO
    seam: Fraction = ZERO
    may_be_seamed_at_slit: bool = True
    may_share: bool = True


@dataclass(frozen=True)
class Narrow:
    """What a cut takes that is ``width`` wide with its hems and seams.

    It begins ``phase`` from the near printed edge, or whole ``step`` lengths further across; an unknown ``step`` (None)
    keeps it there. It is hemmed at both sides, or at some ``seamed`` where ``seam`` is its allowance, which may lie in
    the selvedge. ``exact``: it is trimmed to its own width even where it lies alone, and shows the ``column`` (from 0)
    of the print where another shows the first. ``keeps_width``: alone it takes the whole width of the cloth.
    """

    width: Fraction
    phase: Fraction = ZERO
    step: Fraction | None = ZERO
    hem: Fraction = ZERO
    seam: Fraction = ZERO
    seamed: tuple[Edge, ...] = ()
    column: int = 0
    exact: bool = False
    keeps_width: bool = False
    may_share: bool = True

    def in_selvedge(self, edge: Edge, cloth: Cloth) -> Fraction:
        """How far it may reach beyond this printed edge: the allowance of a seam may lie in the selvedge."""
        return min(self.seam, selvedge_at(edge, cloth)) if edge in self.seamed else ZERO


Strip: TypeAlias = Half | Narrow
"""What a cut needs across when it is less than the whole width."""


@dataclass(frozen=True)
class Draft:
    """A cut as if it took the whole width, and what it needs across when that is less.

    ``looks_other_way``: its pair does, so that it takes the place which the other panel would have: what is cut already
    hangs on the other hand then, and nothing of it moves.
    """

    cut: Cut
    strip: Strip | None = None
    looks_other_way: bool = False

    @property
    def rank(self) -> str:
        """By what cuts are put in order."""
        return on_other_hand(self.cut).id if self.looks_other_way else self.cut.id


def may_share(window: Window, job: Job) -> bool:
    """Whether what is narrow of a window may lie beside other cuts."""
    return window.side_by_side and job.cloth.side_by_side


def narrow_strips(window: Window, job: Job, width: FlatWidth | None, pairing: Pairing) -> dict[Hand, Narrow]:
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
    hem = allowances_of(window, job.allowances).side_hem
    strips = {
        hand: Narrow(needed, phase, level_columns(job.cloth), hem, may_share=shares)
        for hand, phase in _phases(window, job, needed, pairing).items()
    }
    return strips if all(strip.phase + needed <= printed for strip in strips.values()) else {}


def _exact_strips(window: Window, job: Job, needed: Fraction) -> dict[Hand, Narrow]:
    """What is cut to its own width, however much of the cloth that is; none where there is no place for it."""
    found = exact_start(window, job.cloth, needed)
    if found is None or window.made is None:
        return {}
    step = ZERO if window.made.middle is None else level_columns(job.cloth)
    hem, (start, column) = allowances_of(window, job.allowances).side_hem, found
    strip = Narrow(needed, start, step, hem, column=column, exact=True, may_share=may_share(window, job))
    return dict.fromkeys(HANDS[window.panels], strip)


def wide_strip(window: Window, job: Job, width: FlatWidth | None) -> Narrow | None:
    """What a panel of one cut takes across that is wider than half the print, where something narrow may lie beside it;
    None where nothing may."""
    printed = printed_width(job.cloth)
    if width is None or not may_share(window, job) or not printed < 2 * width.needed < 2 * printed:
        return None
    if job.cloth.repeat is not None or job.cloth.border is not None:
        # Its columns, or the border that leads, say where across the cloth it lies.
        return None
    return Narrow(width.needed, hem=allowances_of(window, job.allowances).side_hem, keeps_width=True)


def level_columns(cloth: Cloth) -> Fraction | None:
    """How far apart narrow panels show the same print: whole columns that lie level; None where it is not known."""
    if cloth.repeat is None:
        return ZERO
    return cloth.repeat.across * cloth.drop.denominator if cloth.repeat.across is not None else None


def _phases(window: Window, job: Job, needed: Fraction, pairing: Pairing) -> dict[Hand, Fraction]:
    cloth, step = job.cloth, level_columns(job.cloth)
    phases = dict.fromkeys(HANDS[window.panels], ZERO)
    if not step or cloth.repeat is None or cloth.repeat.across is None:
        return phases
    if pairing is Pairing.TURNED_SLID:
        phases[Hand.RIGHT] = cloth.repeat.across / 2
    elif pairing in (Pairing.OWN_IMAGE, Pairing.OWN_SLID):
        # Left edges at p and q, both panels as wide: the leading edges mirror when p + q + width = 2 mirror line.
        phases[Hand.RIGHT] = (2 * mirror_line(cloth) - needed - 2 * cloth.near_selvedge) % step
    return phases


def strip_of(draft: Draft) -> Strip:
    if draft.strip is None:
        raise ValueError(f"{draft.cut.id} takes the whole width")
    return draft.strip


def least_of_print(strip: Strip, cloth: Cloth) -> Fraction:
    """The part of the printed width that it takes at least, wherever it lies."""
    if isinstance(strip, Half):
        return strip.part * cloth.width - max(cloth.near_selvedge, cloth.far_selvedge)
    return strip.width - strip.in_selvedge(Edge.NEAR, cloth) - strip.in_selvedge(Edge.FAR, cloth)


def only_at(strip: Strip, edge: Edge, cloth: Cloth) -> bool:
    """Whether a cut lies at this side of any length it shares."""
    if isinstance(strip, Half):
        return not may_lie(strip, edge.opposite, cloth)
    return edge is Edge.NEAR and strip.step is None and not strip.phase


def may_lie(strip: Half, place: Edge, cloth: Cloth) -> bool:
    """Whether a half cut may be the near, or the far, half of a length."""
    return strip.joined_at is place or (cloth.repeat is None and strip.may_be_seamed_at_slit)


def alone(draft: Draft, cloth: Cloth) -> Cut:
    """The cut of a draft with a length of cloth to itself."""
    strip = draft.strip
    if isinstance(strip, Half):
        return _half(draft.cut, strip, cloth, strip.joined_at)
    if strip is None or strip.keeps_width:
        return draft.cut
    return _placed(draft.cut, strip, cloth, strip.phase)


def side_by_side(drafts: Sequence[Draft], cloth: Cloth) -> tuple[Cut, ...] | None:
    """The cuts of several drafts beside each other across the cloth, in the order of the drafts; None where there is no
    room for all, each on its columns.

    A half cut joined at its far side is the far half of the length, so that its seam is that of a whole cut; one of
    plain cloth that is wide enough when it is seamed along the slit may be either.
    """
    ranked = sorted(drafts, key=lambda draft: draft.rank)
    halves = [(draft.cut, draft.strip) for draft in drafts if isinstance(draft.strip, Half)]
    rest = [(draft.cut, draft.strip) for draft in ranked if isinstance(draft.strip, Narrow)]
    if len(halves) > 2 or sum(strip.part for _, strip in halves) > 1:
        return None
    for places in permutations((Edge.NEAR, Edge.FAR), len(halves)):
        # A half cut lies where it is joined to a whole one sooner than along the slit.
        if not all(may_lie(strip, place, cloth) for (_, strip), place in zip(halves, places, strict=True)):
            continue
        taken = {place: strip.part * cloth.width for (_, strip), place in zip(halves, places, strict=True)}
        between = _between(rest, taken, cloth)
        if between is not None:
            found = {
                cut.id: _half(cut, strip, cloth, place) for (cut, strip), place in zip(halves, places, strict=True)
            }
            found |= {cut.id: cut for cut in between}
            return tuple(found[draft.cut.id] for draft in drafts)
    return None


def _between(strips: Sequence[tuple[Cut, Narrow]], taken: Mapping[Edge, Fraction], cloth: Cloth) -> list[Cut] | None:
    """Narrow cuts one after another across what the halves, that have ``taken`` so much at a side, leave of the
    print; of equally wide ones the first is tried first."""
    low = max(ZERO, taken.get(Edge.NEAR, ZERO) - cloth.near_selvedge)
    high = printed_width(cloth) - max(ZERO, taken.get(Edge.FAR, ZERO) - cloth.far_selvedge)
    if sum((least_of_print(strip, cloth) for _, strip in strips), ZERO) > high - low:
        return None
    widest = sorted(strips, key=lambda one: -one[1].width)
    for order in permutations(widest) if len(widest) <= MOST_ORDERS else [tuple(widest)]:
        at, found = low, list[Cut]()
        for number, (cut, strip) in enumerate(order):
            if number == 0 and Edge.NEAR not in taken:
                at -= strip.in_selvedge(Edge.NEAR, cloth)
            is_last = number == len(order) - 1 and Edge.FAR not in taken
            start = _next_start(strip, at)
            if start is None or start + strip.width > high + (strip.in_selvedge(Edge.FAR, cloth) if is_last else ZERO):
                break
            found.append(_placed(cut, strip, cloth, start))
            at = start + strip.width
        else:
            return found
    return None


def _next_start(strip: Narrow, after: Fraction) -> Fraction | None:
    """The first place from ``after`` on where the strip shows its print, from the near printed edge."""
    if strip.step is None:
        return strip.phase if strip.phase >= after else None
    return after + (strip.phase - after) % strip.step if strip.step else after


def _half(cut: Cut, strip: Half, cloth: Cloth, place: Edge) -> Cut:
    """A half cut as the near or the far part of the cloth; on plain cloth its seam may lie along the slit."""
    wide = strip.part * cloth.width
    across = (ZERO, wide) if place is Edge.NEAR else (cloth.width - wide, cloth.width)
    if strip.joined_at is place:
        edge, side = place.opposite, Side(strip.trim + strip.hem, strip.hem, trim=strip.trim)
    else:
        edge, side = strip.joined_at, Side(strip.seam, joined=True)
    return _sided(replace(cut, across=across, parted=across), {edge: side})


def _placed(cut: Cut, strip: Narrow, cloth: Cloth, start: Fraction) -> Cut:
    """A narrow cut so far from the near printed edge; the selvedge beside it is its own, unless it is trimmed."""
    near, far = cloth.near_selvedge + start, cloth.near_selvedge + start + strip.width
    own = [edge for edge in (Edge.NEAR, Edge.FAR) if not strip.exact or edge in strip.seamed]
    across: Interval = (
        ZERO if start <= 0 and Edge.NEAR in own else near,
        cloth.width if start + strip.width >= printed_width(cloth) and Edge.FAR in own else far,
    )
    outside = {Edge.NEAR: near - across[0], Edge.FAR: across[1] - far}
    sides = {
        edge: Side(left + strip.seam, joined=True) if edge in strip.seamed else Side(left + strip.hem, strip.hem)
        for edge, left in outside.items()
    }
    return _sided(replace(cut, across=across, parted=across), sides)


def _sided(cut: Cut, sides: Mapping[Edge, Side]) -> Cut:
    """The cut with other sides at some of its edges."""
    leading, returning = sides.get(cut.leading_edge), sides.get(cut.return_edge)
    return replace(cut, leading_side=leading or cut.leading_side, return_side=returning or cut.return_side)
