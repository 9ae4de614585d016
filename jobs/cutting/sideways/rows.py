"""At which height the rows of sideways panels hang: as the job says, or as the print lies where it says nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.rows import below_top, levels_of, named
from jobs.cutting.sideways.reach import row_below, tops
from jobs.model.job import Job
from jobs.model.problems import JobRefused
from jobs.model.window import RowRule, Window


def with_rows(job: Job) -> Mapping[str, Window]:
    """The windows by name, each with a rule for its rows: one that has none hangs its print as it lies.

    Then its top edge lies at the edge of the print, or as near it as its partner lets it.
    """
    if job.cloth.repeat is None or job.cloth.repeat.across is None:
        return named(job.windows)
    return named(tuple(_ruled(window, job) for window in job.windows))


def _ruled(window: Window, job: Job) -> Window:
    try:
        places = tops(window, job) if window.row is None else ()
    except JobRefused:
        # It is refused for its pair; the rows of the other windows are asked for all the same.
        return window
    if not places:
        return window
    below_edge = row_below(places[0][1], job)
    return replace(window, row=RowRule(below_top=finished(below_edge, job)))


def finished(below_edge: Fraction, job: Job) -> Fraction:
    """A distance below the top edge as one below the finished top, once the cloth has shrunk."""
    return below_edge * (1 - job.cloth.shrinkage_across) - job.allowances.heading


def depth_below_edge(window: Window, windows: Mapping[str, Window], job: Job) -> Fraction:
    """How far below its top edge a panel shall show a row, on cloth that has not shrunk yet."""
    ruled = windows[window.name.casefold()]
    return (job.allowances.heading + below_top(ruled, windows)) / (1 - job.cloth.shrinkage_across)


def is_ruled(window: Window, job: Job) -> bool:
    """Whether the job itself says where the rows of a window hang."""
    return levels_of(window, named(job.windows))[-1].row is not None
