"""Half cuts and panels so narrow that two of them may lie side by side in one length of cloth.

Only cuts that lie the same way, are equally long and show their rows at the same height can share a length. Nothing
here depends on the order of the windows.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

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

Lane = list[Cut]


@dataclass(frozen=True)
class Strip:
    """What a cut needs across when it is less than the whole width.

    A half cut is ``joined`` at its side ``joined_at`` and hemmed, ``trim`` cut away, at the other; it takes this
    ``part`` of the cloth width. A narrow panel is hemmed at both, ``width`` wide with its hems, and begins ``phase``
    from the near printed edge, or whole ``step`` lengths further across; an unknown ``step`` (None) keeps it there.
    ``hem`` is what its hemmed sides take, ``seam`` a seam. ``may_be_seamed_at_slit``: a half cut of plain cloth that is
    seamed along its slit, and so reaches less far, is wide enough. ``exact``: it is trimmed to its own width even
    where it lies alone, and shows the ``column`` (from 0) of the print where another shows the first.
    """

    joined: bool
    trim: Fraction = ZERO
    width: Fraction = ZERO
    phase: Fraction = ZERO
    step: Fraction | None = ZERO
    may_share: bool = True
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


def laid_side_by_side(drafts: Sequence[Draft], job: Job) -> tuple[Cut, ...]:
    """The cuts of the drafts, in the same order, each strip with its place across the cloth."""
    alike: dict[tuple[object, ...], list[Draft]] = {}
    done: dict[str, Cut] = {draft.cut.id: draft.cut for draft in drafts}
    for draft in drafts:
        if draft.strip is not None:
            cut = draft.cut
            alone = cut.id if not draft.strip.may_share else ""
            alike.setdefault((draft.strip.joined, cut.length, cut.row, cut.way, alone), []).append(draft)
    for key, group in alike.items():
        ordered = sorted(group, key=lambda draft: draft.cut.id)
        for lane in _halves(ordered, job) if key[0] else _narrow(ordered, job):
            word = lane[0].id if len(lane) > 1 else ""
            done.update((cut.id, replace(cut, beside=word)) for cut in lane)
    return tuple(done[draft.cut.id] for draft in drafts)


def _halves(drafts: list[Draft], job: Job) -> Iterable[Lane]:
    """A half joined at its far side is the far half of its length, so that its seam is that of a whole cut."""
    near = [draft for draft in drafts if _joined_at(draft) is Edge.NEAR]
    far = [draft for draft in drafts if _joined_at(draft) is Edge.FAR]
    others = {draft.cut.window: draft for draft in far}
    mates = [(one, others[one.cut.window]) for one in near if one.cut.window in others]
    both_hands = {one.cut.window for one, _ in mates}
    near, far = ([one for one in side if one.cut.window not in both_hands] for side in (near, far))
    both = min(len(near), len(far))
    mates += list(zip(near[:both], far[:both], strict=True))
    lanes = [[_half(a, job, Edge.NEAR), _half(b, job, Edge.FAR)] for a, b in mates]
    left = near[both:] + far[both:]
    if job.cloth.repeat is not None or not all(draft.strip and draft.strip.may_be_seamed_at_slit for draft in left):
        return lanes + [[_half(draft, job, _joined_at(draft))] for draft in left]
    for first, second in zip(left[::2], left[1::2], strict=False):
        lanes.append([_half(first, job, Edge.NEAR), _half(second, job, Edge.FAR)])
    return lanes + [[_half(draft, job, _joined_at(draft))] for draft in left[len(left) // 2 * 2 :]]


def _joined_at(draft: Draft) -> Edge:
    return _strip(draft).joined_at or draft.cut.leading_edge


def _half(draft: Draft, job: Job, place: Edge) -> Cut:
    """A half cut as the near or the far part of the cloth; on plain cloth its seam may lie along the slit."""
    strip, width = _strip(draft), job.cloth.width
    wide = strip.part * width
    across = (ZERO, wide) if place is Edge.NEAR else (width - wide, width)
    cut, leads = replace(draft.cut, across=across, parted=across), _joined_at(draft) is draft.cut.leading_edge
    if _joined_at(draft) is not place:
        at_slit = Side(strip.seam, joined=True)
        return replace(cut, leading_side=at_slit) if leads else replace(cut, return_side=at_slit)
    hemmed = Side(strip.trim + strip.hem, strip.hem, trim=strip.trim)
    return replace(cut, return_side=hemmed) if leads else replace(cut, leading_side=hemmed)


def _narrow(drafts: list[Draft], job: Job) -> Iterable[Lane]:
    """The widest first, each in the first length that still has room for it."""
    lanes: list[tuple[Lane, Fraction]] = []
    full: list[Lane] = []
    narrowest = min(_strip(draft).width for draft in drafts)
    for draft in sorted(drafts, key=lambda one: (-_strip(one).width, one.cut.id)):
        strip = _strip(draft)
        for number, (lane, end) in enumerate(lanes):
            start = _next_start(strip, end)
            if start is not None and start + strip.width <= printed_width(job.cloth):
                longer, end = [*lane, _placed(draft, start, job)], start + strip.width
                del lanes[number]
                break
        else:
            number, longer, end = len(lanes), [_placed(draft, strip.phase, job)], strip.phase + strip.width
        if end + narrowest > printed_width(job.cloth):
            full.append(longer)
        else:
            lanes.insert(number, (longer, end))
    return [*full, *(lane for lane, _ in lanes)]


def _strip(draft: Draft) -> Strip:
    if draft.strip is None:
        raise ValueError(f"{draft.cut.id} takes the whole width")
    return draft.strip


def _next_start(strip: Strip, after: Fraction) -> Fraction | None:
    """The first place from ``after`` on where the strip shows its print, from the near printed edge."""
    if strip.step is None:
        return None
    return after + (strip.phase - after) % strip.step if strip.step else after


def _placed(draft: Draft, start: Fraction, job: Job) -> Cut:
    """A narrow panel so far from the near printed edge; the selvedge beside it is its own."""
    width, selvedge, printed = _strip(draft).width, job.cloth.near_selvedge, printed_width(job.cloth)
    near, far = selvedge + start, selvedge + start + width
    exact = _strip(draft).exact
    across: Interval = (near if start or exact else ZERO, far if start + width < printed or exact else job.cloth.width)
    hem = _strip(draft).hem
    sides = {Edge.NEAR: Side(near - across[0] + hem, hem), Edge.FAR: Side(across[1] - far + hem, hem)}
    cut = draft.cut
    leading, returning = sides[cut.leading_edge], sides[cut.return_edge]
    return replace(cut, across=across, parted=across, leading_side=leading, return_side=returning)
