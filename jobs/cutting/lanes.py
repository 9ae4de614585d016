"""Half cuts and narrow panels laid side by side in one length of cloth.

Only cuts that lie the same way, are equally long and show their rows at the same height can share a length. Nothing
here depends on the order of the windows.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.cutting.narrow import Strip
from jobs.cutting.panels import Draft
from jobs.cutting.sides import Edge, hemmed, printed_edge, raw_seam
from jobs.model.cuts import Cut, Selvedge
from jobs.model.job import Job
from jobs.model.schema import ZERO

Lane = list[Cut]


def settled(drafts: Sequence[Draft], job: Job) -> tuple[Cut, ...]:
    """The cuts of the drafts, in the same order, each strip with its place across the cloth."""
    alike: dict[tuple[object, ...], list[Draft]] = {}
    done: dict[str, Cut] = {draft.cut.id: draft.cut for draft in drafts}
    for draft in drafts:
        if draft.strip is not None:
            cut, is_half = draft.cut, draft.strip.joined is not None
            alone = cut.id if not draft.strip.may_share else ""
            alike.setdefault((is_half, cut.length, cut.row, cut.way, alone), []).append(draft)
    for key, group in alike.items():
        ordered = sorted(group, key=lambda draft: draft.cut.id)
        for lane in _halves(ordered, job) if key[0] else _narrow(ordered, job):
            word = lane[0].id if len(lane) > 1 else ""
            done.update((cut.id, replace(cut, beside=word)) for cut in lane)
    return tuple(done[draft.cut.id] for draft in drafts)


def _halves(drafts: list[Draft], job: Job) -> Iterable[Lane]:
    """A half joined at its far side is the far half of its length, so that its seam is that of a whole cut."""
    near = [draft for draft in drafts if _joined(draft) is Selvedge.NEAR]
    far = [draft for draft in drafts if _joined(draft) is Selvedge.FAR]
    others = {draft.cut.window: draft for draft in far}
    mates = [(one, others[one.cut.window]) for one in near if one.cut.window in others]
    both_hands = {one.cut.window for one, _ in mates}
    near, far = ([one for one in side if one.cut.window not in both_hands] for side in (near, far))
    both = min(len(near), len(far))
    mates += list(zip(near[:both], far[:both], strict=True))
    lanes = [[_half(a, job, Selvedge.NEAR), _half(b, job, Selvedge.FAR)] for a, b in mates]
    left = near[both:] + far[both:]
    if job.cloth.repeat is not None:
        return lanes + [[_half(draft, job, _joined(draft))] for draft in left]
    for first, second in zip(left[::2], left[1::2], strict=False):
        lanes.append([_half(first, job, Selvedge.NEAR), _half(second, job, Selvedge.FAR)])
    return lanes + [[_half(draft, job, _joined(draft))] for draft in left[len(left) // 2 * 2 :]]


def _joined(draft: Draft) -> Selvedge:
    if draft.strip is None or draft.strip.joined is None:
        raise ValueError(f"{draft.cut.id} is not a half cut")
    return draft.strip.joined


def _half(draft: Draft, job: Job, place: Selvedge) -> Cut:
    """A half cut as the near or the far half of the cloth; on plain cloth its seam may lie along the slit."""
    joined, middle = _joined(draft), job.cloth.width / 2
    trim = draft.strip.trim if draft.strip else ZERO
    slit = Edge(middle, place is Selvedge.FAR)
    if joined is place:
        slit_side, other = hemmed(job, slit, trim), None
    else:
        slit_side, other = raw_seam(job, slit), hemmed(job, printed_edge(job, place is Selvedge.NEAR), trim)
    cut = draft.cut
    if place is Selvedge.NEAR:
        return replace(cut, across=(ZERO, middle), near_side=other or cut.near_side, far_side=slit_side)
    return replace(cut, across=(middle, job.cloth.width), near_side=slit_side, far_side=other or cut.far_side)


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
    width, selvedge, printed = _strip(draft).width, job.cloth.selvedge, printed_width(job.cloth)
    near, far = selvedge + start, selvedge + start + width
    across = (near if start else ZERO, far if start + width < printed else job.cloth.width)
    return replace(
        draft.cut, across=across, near_side=hemmed(job, Edge(near, True)), far_side=hemmed(job, Edge(far, False))
    )
