"""How a cut that is made serves as the one that a job asks for now: as it is, trimmed, sewn otherwise, or not."""

from __future__ import annotations

from fractions import Fraction

from jobs.cutting.strips import level_columns
from jobs.model.cuts import Cut, Edge, Hand, Interval
from jobs.model.job import Job
from jobs.model.problems import Code, Problem, Value, problem
from jobs.model.records import dataclass
from jobs.model.schema import ZERO

NEAREST = Fraction(1, 16)
"""Differences up to this are not seen under scissors."""


@dataclass(frozen=True)
class Fit:
    """``against`` is why the made cut does not serve (None: it does), ``note`` what is to be known where it does."""

    against: Problem | None = None
    note: Problem | None = None


def name_of(cut: Cut) -> str:
    """A cut as a person calls it."""
    return cut.name if cut.of > 1 or cut.hand is Hand.WHOLE else cut.panel


def fit_of(made: Cut, wanted: Cut, job: Job) -> Fit:
    """How a made cut serves as the one that is wanted now.

    It serves as it is, or longer than wanted with its rows in the right place, so that it is trimmed, or with other
    turnings (heading, hem) and the same finished length.
    """
    tops = made.top_edge, wanted.top_edge
    if tops[0] is not tops[1] and not all(edge.is_end for edge in tops):
        return _against(Code.CUT_OTHER_WAY_OF_CLOTH)
    if made.way is not wanted.way:
        return _against(Code.CUT_OTHER_WAY, made=made.way.value, wanted=wanted.way.value)
    if _narrower(made, wanted, job):
        return _against(Code.CUT_OTHER_SIDES)
    if tops[0] is not tops[1]:
        return _against(Code.CUT_OTHER_TOP)
    return _rows_across(made, wanted, job) if tops[0].is_end else _rows_along(made, wanted)


def changed_fit(made: Cut, wanted: Cut, job: Job) -> Fit:
    """How a made cut serves in the other panel of its pair, where it is cut to lead and now returns."""
    if made.of > 1 and made.across != wanted.across:
        return _against(Code.CHANGED_HALF_LEADS)
    fit = fit_of(made, wanted, job)
    if fit.against is None or fit.against.code is not Code.CUT_OTHER_ROW:
        return fit
    return _against(Code.CHANGED_ROWS, off=_apart(made.row, wanted.row, job))


def _narrower(made: Cut, wanted: Cut, job: Job) -> bool:
    """Whether cloth was cut away at a side where it is wanted now; a narrow panel may come from anywhere across the
    cloth where the same print lies."""
    ours, theirs = _strip(made, job), _strip(wanted, job)
    if ours is not None and theirs is not None and _same_print(ours[0] - theirs[0], level_columns(job.cloth)):
        return theirs[1] - theirs[0] - (ours[1] - ours[0]) > NEAREST
    sides = [edge for edge in (Edge.NEAR, Edge.FAR) if edge in (made.leading_edge, made.return_edge)]
    return any(edge.sense * (_reach(wanted, edge) - _reach(made, edge)) > NEAREST for edge in sides)


def _strip(cut: Cut, job: Job) -> Interval | None:
    """A panel narrower than the cloth, with its side hems and without a selvedge beside it; None for any other cut."""
    if cut.of > 1 or not cut.top_edge.is_end or cut.across == (ZERO, job.cloth.width):
        return None
    near, far = (cut.side_at(edge) for edge in (Edge.NEAR, Edge.FAR))
    if near is None or far is None:
        return None
    return cut.across[0] + near.line - near.hem, cut.across[1] - far.line + far.hem


def _same_print(apart: Fraction, step: Fraction | None) -> bool:
    """Whether two places so far apart across the cloth show the same print."""
    if step is None:
        return not apart
    return not step or min(apart % step, -apart % step) <= NEAREST


def _reach(cut: Cut, edge: Edge) -> Fraction:
    """To where a cut reaches across the cloth, once it is trimmed."""
    side = cut.side_at(edge)
    return edge.at(cut.across, cut.across, side.trim if side is not None else ZERO)


def _rows_across(made: Cut, wanted: Cut, job: Job) -> Fit:
    """Rows run across the piece, so that what is trimmed along it moves them under the top."""
    top = _trimmed_at_top(made, wanted, job)
    foot = made.length - wanted.length - top if top is not None else ZERO
    if top is not None and foot >= -NEAREST:
        return _trimmed(top=top, foot=foot)
    lengths = [cut.length - cut.heading - cut.hem for cut in (made, wanted)]
    if abs(lengths[0] - lengths[1]) <= NEAREST and _apart(_below_top(made), _below_top(wanted), job) <= NEAREST:
        return Fit(note=problem((), Code.CUT_OTHER_TURNINGS, heading=made.heading, hem=made.hem))
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


def _rows_along(made: Cut, wanted: Cut) -> Fit:
    """Rows run along the piece: what is trimmed along it leaves them where they are."""
    rows = [cut.row if cut.row is not None else ZERO for cut in (made, wanted)]
    if abs(made.height - wanted.height) > NEAREST or abs(rows[0] - rows[1]) > NEAREST:
        return _against(Code.CUT_OTHER_HEIGHT)
    more = made.length - wanted.length
    if more < -NEAREST:
        return _against(Code.CUT_OTHER_LENGTH, made=made.length, wanted=wanted.length)
    return _trimmed(returning=more)


def _against(code: Code, **values: Value) -> Fit:
    return Fit(problem((), code, **values))


def _trimmed(**trims: Fraction) -> Fit:
    seen: dict[str, Value] = {where: trim for where, trim in trims.items() if trim > NEAREST}
    return Fit(note=problem((), Code.CUT_TO_TRIM, **seen)) if seen else Fit()
