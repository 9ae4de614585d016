"""Whether a cut that is made already serves as the cut that a job asks for now."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.lengths import show_cut, show_length
from jobs.model.problems import Code, Problem, Value, problem

ZERO = Fraction(0)
NEAREST = Fraction(1, 16)
"""Differences up to this are not seen under scissors."""


@dataclass(frozen=True)
class Fit:
    """``against`` is why the made cut does not serve (None: it does), ``note`` what is to be known where it does."""

    against: Problem | None = None
    note: str = ""


def fit_of(made: Cut, wanted: Cut, job: Job) -> Fit:
    """How a made cut serves as the one that is wanted now.

    It serves as it is, or longer than wanted with its rows in the right place, so that it is trimmed, or with other
    turnings (heading, hem) and the same finished length.
    """
    if made.top_at is not wanted.top_at:
        return _against(Code.CUT_OTHER_WAY_OF_CLOTH)
    if made.way is not wanted.way:
        return _against(Code.CUT_OTHER_WAY, made=made.way.value, wanted=wanted.way.value)
    if _narrower(made, wanted):
        return _against(Code.CUT_OTHER_SIDES)
    return _sideways(made, wanted, job.unit) if made.is_sideways else _upright(made, wanted, job)


def _upright(made: Cut, wanted: Cut, job: Job) -> Fit:
    if made.top_first is not wanted.top_first:
        return _against(Code.CUT_OTHER_TOP)
    top = _trimmed_at_top(made, wanted, job)
    foot = made.length - wanted.length - top if top is not None else ZERO
    if top is not None and foot >= -NEAREST:
        return Fit(note=_trim_note({"top": top, "foot": foot}, job.unit))
    lengths = [cut.length - cut.heading - cut.hem for cut in (made, wanted)]
    if abs(lengths[0] - lengths[1]) <= NEAREST and _apart(_below_top(made), _below_top(wanted), job) <= NEAREST:
        heading, hem = show_length(made.heading, job.unit), show_length(made.hem, job.unit)
        return Fit(note=f"cut with a heading of {heading} and a hem of {hem}: sew with these")
    if abs(made.length - wanted.length) > NEAREST:
        return _against(Code.CUT_OTHER_LENGTH, made=made.length, wanted=wanted.length)
    return _against(Code.CUT_OTHER_ROW, made=made.row or ZERO, wanted=wanted.row or ZERO)


def _trimmed_at_top(made: Cut, wanted: Cut, job: Job) -> Fraction | None:
    """The least that is trimmed at the top of a made cut so that rows lie as wanted; None where no trim gives that."""
    if made.row is None or wanted.row is None or job.cloth.repeat is None:
        return ZERO
    along = job.cloth.repeat.along
    top = (made.row - wanted.row) % along
    return ZERO if along - top <= NEAREST else top


def _below_top(cut: Cut) -> Fraction | None:
    return None if cut.row is None else cut.row - cut.heading


def _apart(one: Fraction | None, other: Fraction | None, job: Job) -> Fraction:
    """How far rows lie apart."""
    if one is None or other is None or job.cloth.repeat is None:
        return ZERO
    apart = (one - other) % job.cloth.repeat.along
    return min(apart, job.cloth.repeat.along - apart)


def _sideways(made: Cut, wanted: Cut, unit: Unit) -> Fit:
    rows = [cut.row if cut.row is not None else ZERO for cut in (made, wanted)]
    heights = [cut.across[1] - cut.across[0] if cut.across else ZERO for cut in (made, wanted)]
    if abs(heights[0] - heights[1]) > NEAREST or abs(rows[0] - rows[1]) > NEAREST:
        return _against(Code.CUT_OTHER_HEIGHT)
    more = made.length - wanted.length
    if more < -NEAREST:
        return _against(Code.CUT_OTHER_LENGTH, made=made.length, wanted=wanted.length)
    return Fit(note=_trim_note({"return edge": more}, unit))


def _against(code: Code, **values: Value) -> Fit:
    return Fit(problem((), code, **values))


def _trim_note(trims: dict[str, Fraction], unit: Unit) -> str:
    told = [f"{show_cut(trim, unit)} at the {where}" for where, trim in trims.items() if trim > NEAREST]
    return f"cut longer than the job now asks for: trim {' and '.join(told)}" if told else ""


def _narrower(made: Cut, wanted: Cut) -> bool:
    """Whether cloth was cut away at a side where it is wanted now."""
    if made.is_sideways:
        return False
    (near, far), (low, high) = _reach(made), _reach(wanted)
    return near > low + NEAREST or far < high - NEAREST


def _reach(cut: Cut) -> tuple[float, float]:
    """From where to where a cut reaches across the cloth; without end where that is the whole width."""
    near, far = (float(edge) for edge in cut.across) if cut.across else (-math.inf, math.inf)
    if cut.near_side is not None and cut.near_side.trim is not None:
        near = max(near, float(cut.near_side.trim))
    if cut.far_side is not None and cut.far_side.trim is not None:
        far = min(far, float(cut.far_side.trim))
    return near, far
