"""What keeps the cuts of a window from being worked out where the cloth is run sideways."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from jobs.cutting.columns import columns_across, printed_width
from jobs.cutting.mirroring import pairing_of
from jobs.cutting.rows import below_top, levels_of, named
from jobs.cutting.sideways.reach import repeat_across, top_for, tops
from jobs.cutting.sideways.rows import depth_below_edge, finished, with_rows
from jobs.cutting.sideways.sizes import height_of, spare_height
from jobs.cutting.widths import flat_width
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE, round_up
from jobs.model.problems import Code, Path, Problem, problem
from jobs.model.window import RowRule, Window


def sideways_problems(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    """The first thing that is wrong with a window of cloth run sideways; the ways of its pair are checked elsewhere."""
    for check in (_width_known, _tall_enough, _repeat_known, _partner_fits, _rows_reached):
        problems = list(check(window, job, path))
        if problems:
            yield from problems
            return


def _width_known(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    if flat_width(window, job) is None:
        yield problem(path, Code.WIDTH_NOT_KNOWN)


def _tall_enough(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    missing = -spare_height(window, job)
    if missing > 0:
        takes, lies = height_of(window, job), printed_width(job.cloth)
        yield problem((*path, "finished_length"), Code.NOT_TALL_ENOUGH, takes=takes, lies=lies, missing=missing)


def _repeat_known(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    if job.cloth.repeat is not None and job.cloth.repeat.across is None:
        yield problem(("cloth", "repeat"), Code.SIDEWAYS_NEEDS_ACROSS)


def _partner_fits(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    if not tops(window, job):
        spare, pairing = spare_height(window, job), pairing_of(window, job)
        yield problem((*path, "hang"), Code.PARTNER_DOES_NOT_FIT, spare=spare, pairing=pairing.value)


def _rows_reached(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    """Rows run along the piece at fixed places, so no more of a repeat is reached than there is height to spare."""
    windows, chain = with_rows(job), levels_of(window, named(job.windows))
    if job.cloth.repeat is None or (chain[-1].row is not None and chain[-1].row.level_with is not None):
        return
    if any(one.top_height is None for one in chain) and len(chain) > 1:
        return
    depth = depth_below_edge(window, windows, job)
    if top_for(depth, window, job) is not None:
        return
    period = _period(job)
    wanted = below_top(windows[window.name.casefold()], windows) % period
    best = _nearest(wanted, window, job)
    spare = spare_height(window, job)
    rule = window.row or RowRule()
    if rule.level_with is not None:
        values = {"spare": spare, "wanted": wanted, "best": best % period}
        yield problem((*path, "row"), Code.LEVEL_ROW_NOT_REACHED, **values)
        return
    key, value = "below_top", best
    if rule.above_foot is not None:
        key, value = "above_foot", (window.finished_length - best) % period
    yield problem(
        (*path, "row"), Code.ROW_NOT_REACHED, spare=spare, wanted=wanted, best=best % period, key_name=key, value=value
    )


def _period(job: Job) -> Fraction:
    """The repeat across once the cloth has shrunk."""
    return repeat_across(job) * (1 - job.cloth.shrinkage_across)


def _nearest(wanted: Fraction, window: Window, job: Job) -> Fraction:
    """The distance below the finished top, from 0 up, nearest to the one asked for that can be reached."""
    period, found = _period(job), []
    for low, high in tops(window, job):
        for place in _inside(_below(low, job), _below(high, job), job):
            off = (place - wanted) % period
            found.append((min(off, period - off), place))
    return min(found)[1]


def _below(top: Fraction, job: Job) -> Fraction:
    """How far below the finished top the first column hangs of a panel whose top edge lies there."""
    return finished(top - columns_across(job.cloth)[0], job)


def _inside(low: Fraction, high: Fraction, job: Job) -> Iterator[Fraction]:
    """The ends of a stretch, whole repeats taken away and then drawn in to what a tape shows, where it is that long."""
    step = Fraction(1, 16) if job.unit is Unit.INCH else CENTIMETRE / 10
    for edge in (low, high):
        away = edge // _period(job) * _period(job)
        least, most = max(low - away, Fraction(0)), high - away
        ends = {round_up(least, step), most // step * step}
        yield from [end for end in ends if least <= end <= most] or [edge - away]
