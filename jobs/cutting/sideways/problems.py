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
from jobs.job import Job, RowRule, Unit, Window
from jobs.lengths import CENTIMETRE, round_up, show_length

Told = tuple[str, str]
"""What is wrong, and what to do instead."""


def sideways_problems(window: Window, job: Job) -> Iterator[Told]:
    """The first thing that is wrong with a window of cloth run sideways; the ways of its pair are checked elsewhere."""
    for check in (_width_known, _tall_enough, _repeat_known, _partner_fits, _rows_reached):
        problems = list(check(window, job))
        if problems:
            yield from problems
            return


def _width_known(window: Window, job: Job) -> Iterator[Told]:
    if flat_width(window, job) is None:
        what = "cloth run sideways is cut to the flat width of a panel, and only the number of cuts is given"
        yield what, "write `rod` and `fullness` instead of `cuts_per_panel`; for a flat width, `fullness: 1`"


def _tall_enough(window: Window, job: Job) -> Iterator[Told]:
    missing = -spare_height(window, job)
    if missing > 0:
        takes, lies = height_of(window, job), printed_width(job.cloth)
        tall, wide, more = (show_length(length, job.unit) for length in (takes, lies, missing))
        what = (
            f"cloth run sideways is not tall enough here: the panel takes {tall} with heading and hem, and {wide} lie "
            "between the selvedges"
        )
        yield what, f"write `run: up`, take cloth at least {more} wider, or allow that much less for heading and hem"


def _repeat_known(window: Window, job: Job) -> Iterator[Told]:
    if job.cloth.repeat is not None and job.cloth.repeat.across is None:
        what = "where cloth is run sideways its rows lie a repeat across apart, and that is not known"
        yield what, "measure it and write `repeat: {along: ..., across: ...}`"


def _partner_fits(window: Window, job: Job) -> Iterator[Told]:
    if not tops(window, job):
        spare = show_length(spare_height(window, job), job.unit)
        what = (
            f"the mirror image of the left panel lies elsewhere across the cloth, and with {spare} of height to spare "
            f"the right panel does not fit there ({pairing_of(window, job)})"
        )
        yield what, "write `hang: same`, or allow less for heading and hem"


def _rows_reached(window: Window, job: Job) -> Iterator[Told]:
    """Rows run along the piece at fixed places, so no more of a repeat is reached than there is height to spare."""
    windows, chain = with_rows(job), levels_of(window, named(job.windows))
    if job.cloth.repeat is None or (chain[-1].row is not None and chain[-1].row.level_with is not None):
        return
    if any(one.top_height is None for one in chain) and len(chain) > 1:
        return
    depth = depth_below_edge(window, windows, job)
    if top_for(depth, window, job) is not None:
        return
    spare = show_length(spare_height(window, job), job.unit)
    wanted = below_top(windows[window.name.casefold()], windows)
    best = _nearest(wanted, window, job)
    what = (
        f"run sideways, the rows lie where the print lies across the cloth; with {spare} of height to spare a row "
        f"cannot come to hang {_shown(wanted, job)}"
    )
    yield what, f"the nearest it can hang is {_shown(best, job)}: {_as_written(best, window, job)}"


def _period(job: Job) -> Fraction:
    """The repeat across once the cloth has shrunk."""
    return repeat_across(job) * (1 - job.cloth.shrinkage_across)


def _shown(below: Fraction, job: Job) -> str:
    return f"{show_length(below % _period(job), job.unit)} below the finished top"


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


def _as_written(below: Fraction, window: Window, job: Job) -> str:
    rule = window.row or RowRule()
    if rule.level_with is not None:
        return "leave `row` out of both windows, or change the heading of the whole job by the difference"
    key, value = "below_top", below
    if rule.above_foot is not None:
        key, value = "above_foot", (window.finished_length - below) % _period(job)
    said = show_length(value, job.unit)
    return f"write `row: {{{key}: {said}}}`, leave `row` out to take the print as it lies, or take wider cloth"
