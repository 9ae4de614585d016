"""Rows that cannot be level, and rows of one room that are not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from jobs.cutting.columns import rows_apart
from jobs.cutting.rows import below_top, levels_of, named
from jobs.model.choices import Run
from jobs.model.job import Job
from jobs.model.problems import Code, Path, Problem, problem
from jobs.model.window import Window


def level_problems(job: Job) -> Iterator[Problem]:
    """One problem for each window that cannot be level with the one it names; plain cloth has no rows to level."""
    if job.cloth.repeat is None:
        return
    windows = named(job.windows)
    for number, window in enumerate(job.windows):
        rule = window.row
        if rule is None or rule.level_with is None:
            continue
        path: Path = ("windows", number, "row", "level_with")
        other = windows.get(rule.level_with.casefold())
        last = levels_of(window, windows)[-1]
        if other is None:
            near = tuple(one.name for one in job.windows if one is not window)[:8]
            yield problem(path, Code.NO_SUCH_WINDOW, name=rule.level_with, near=near or ("another window",))
        elif last.row is not None and last.row.level_with is not None:
            yield problem(path, Code.LEVEL_IN_A_CIRCLE, name=other.name)
        else:
            low = (one for one in (window, other) if one.top_height is None)
            yield from (problem(path, Code.HEIGHT_NOT_KNOWN, name=one.name) for one in low)


def unlevel_rooms(job: Job) -> Iterator[Problem]:
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


def _unlevel(window: Window, other: Window, above: Fraction, apart: Fraction, job: Job) -> Problem:
    """``above`` is how far its rows hang above the next of the other window, ``apart`` the repeat as it hangs."""
    rule, nearest = window.row, min(above, apart - above)
    if rule is not None and rule.above_foot is not None:
        key, value = "above_foot", (rule.above_foot - above) % apart
    else:
        key, value = "below_top", (below_top(window, named(job.windows)) + above) % apart
    path: Path = ("windows", job.windows.index(window), "row")
    names = {"room": window.room, "other": other.name, "window": window.name}
    return problem(path, Code.ROWS_UNLEVEL, **names, off=nearest, key_name=key, value=value)
