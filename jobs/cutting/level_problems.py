"""Rows that cannot be level, with the places of both windows."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.cutting.rows import levels_of, named
from jobs.job import Job, Window
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
