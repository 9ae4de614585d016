"""Short panels of plain cloth one above the other across it, in one length: those of one flat width may share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.cuts import Cut
from jobs.model.job import Job


def stacked(cuts: Sequence[Cut], job: Job) -> tuple[Cut, ...]:
    """The cuts, in the same order, those that fit above each other with the same word in ``beside``.

    The tallest first, each in the first length that still has room below; all tops stay towards the far selvedge.
    Patterned cloth is left as it is: its rows say where a panel lies.
    """
    if job.cloth.repeat is not None or not job.cloth.side_by_side:
        return tuple(cuts)
    sharing = {window.name for window in job.windows if window.side_by_side}
    lanes: list[list[Cut]] = []
    for cut in sorted((one for one in cuts if one.window in sharing), key=lambda one: (-_height(one), one.id)):
        for lane in lanes:
            below = _placed(cut, _foot(lane[-1]))
            if lane[0].length == cut.length and _foot(below) >= job.cloth.selvedge:
                lane.append(below)
                break
        else:
            lanes.append([cut])
    shared = {cut.id: replace(cut, beside=lane[0].id) for lane in lanes if len(lane) > 1 for cut in lane}
    return tuple(shared.get(cut.id, cut) for cut in cuts)


def _placed(cut: Cut, top: Fraction) -> Cut:
    return replace(cut, across=(top - _height(cut), top))


def _height(cut: Cut) -> Fraction:
    near, far = _across(cut)
    return far - near


def _foot(cut: Cut) -> Fraction:
    return _across(cut)[0]


def _across(cut: Cut) -> tuple[Fraction, Fraction]:
    if cut.across is None:
        raise ValueError(f"{cut.id} lies sideways without its strip of the cloth")
    return cut.across
