"""Rows that cannot be level, with the places of both windows, and rows of one room that are not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from jobs.cutting.columns import rows_apart
from jobs.cutting.rows import below_top, levels_of, named
from jobs.job import Job, Run, Window
from jobs.lengths import show_length
from jobs.refusals import Problem


def level_problems(job: Job) -> Iterator[Problem]:
    """One problem for each window that cannot be level with the one it names; plain cloth has no rows to level."""
    if job.cloth.repeat is None:
        return
    windows = named(job.windows)
    for window in job.windows:
        rule = window.row
        if rule is None or rule.level_with is None:
            continue
        other = windows.get(rule.level_with.casefold())
        if other is None:
            yield _problem(window, f"there is no window named {rule.level_with}", "write the name of another window")
            continue
        last = levels_of(window, windows)[-1]
        if last.row is not None and last.row.level_with is not None:
            what = f"its rows are to be level with {said(other)}, whose rows hang on those of this window again"
            yield _problem(window, what, "give one of the two `below_top` or `above_foot`")
            continue
        for one in (window, other):
            if one.top_height is None:
                what = f"its rows are to be level with {said(other)}, and the height of {said(one)} is not known"
                yield _problem(window, what, f"add `top_height` to {one.name}")


def said(window: Window) -> str:
    """The name of a window and where it stands in the file."""
    return f"{window.name} (line {window.place.line})" if window.place else window.name


def _problem(window: Window, what: str, advice: str) -> Problem:
    return Problem(f"window {window.name}", what, advice, window.place)


def unlevel_rooms(job: Job) -> Iterator[str]:
    """What to know of windows of one room whose rows hang at unlike heights, with the two ways to mend it.

    Each window is held against the first of its room whose height and row are known. Of cloth run sideways a window
    without a row takes the print as it lies and is left out.
    """
    apart = rows_apart(job.cloth)
    if apart is None:
        return
    lost = job.cloth.shrinkage_across if job.cloth.run is Run.SIDEWAYS else job.cloth.shrinkage
    apart *= 1 - lost
    windows = named(job.windows)
    first: dict[str, Window] = {}
    for window in job.windows:
        if not window.room or levels_of(window, windows)[-1].row is None or _height(window, windows) is None:
            continue
        other = first.setdefault(window.room.casefold(), window)
        off = ((_height(window, windows) or 0) - (_height(other, windows) or 0)) % apart
        if off:
            yield _unlevel(window, other, off, apart, job)


def _height(window: Window, windows: Mapping[str, Window]) -> Fraction | None:
    """Of a row above the floor; None where a height is not known."""
    if any(one.top_height is None for one in levels_of(window, windows)):
        return None
    return (window.top_height or Fraction(0)) - below_top(window, windows)


def _unlevel(window: Window, other: Window, above: Fraction, apart: Fraction, job: Job) -> str:
    """``above`` is how far its rows hang above the next of the other window, ``apart`` the repeat as it hangs."""
    rule, nearest = window.row, min(above, apart - above)
    if rule is not None and rule.above_foot is not None:
        key, value = "above_foot", (rule.above_foot - above) % apart
    else:
        key, value = "below_top", (below_top(window, named(job.windows)) + above) % apart
    return (
        f"{window.room}: the rows of {other.name} and {window.name} hang {show_length(nearest, job.unit)} out of "
        f"level. For level rows write `row: {{level_with: {other.name}}}` in {window.name}, or "
        f"`row: {{{key}: {show_length(value, job.unit)}}}`."
    )
