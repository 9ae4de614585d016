"""A job worked out: every window once, from its rod or its cuts to the cuts of its panels, with what is wrong.

Order, plan, papers, light and page read what stands here; nothing of it is worked out again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from jobs.cutting import sideways, upright
from jobs.cutting.columns import seams
from jobs.cutting.rows import below_top, level_problems, levels_of, named
from jobs.cutting.sharing import Ways, ways_to_share
from jobs.cutting.slugs import window_slugs
from jobs.cutting.strips import Draft
from jobs.model.choices import PrintKey, Run
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.problems import Code, JobRefused, Path, Problem, problem
from jobs.model.resolved import ResolvedJob, ResolvedWindow
from jobs.model.window import Window

Panels: TypeAlias = upright.Panels | sideways.LevelPanels

_ASKED: dict[PrintKey, tuple[Code, Path]] = {
    PrintKey.DROP: (Code.DROP_NOT_KNOWN, ("cloth", "drop")),
    PrintKey.TOP_TO_BOTTOM: (Code.TOP_TO_BOTTOM_NOT_KNOWN, ("cloth", "print", "top_to_bottom")),
    PrintKey.SIDE_TO_SIDE: (Code.SIDE_TO_SIDE_NOT_KNOWN, ("cloth", "print", "side_to_side")),
    PrintKey.ONE_WAY: (Code.ONE_WAY_NOT_KNOWN, ("cloth", "print", "one_way")),
}


def resolve(job: Job) -> ResolvedJob:
    """Work out a job; a print of which something is not known is a problem (see ``jobs.ordering.assumed``).

    Raises ValueError for a whole job that says more than that: each of ``jobs_of_cloths`` is worked out for itself.
    """
    if job.cloths or job.flat_panels or any(one.is_whole_job for one in job.windows):
        raise ValueError("several cloths are worked out one by one")
    lines = seams(job.cloth, job.allowances)
    problems = unanswered(job.cloth.not_known)
    if problems:
        return ResolvedJob(job, lines, problems=problems)
    windows = sideways.with_rows(job) if job.cloth.run is Run.SIDEWAYS else named(job.windows)
    found: list[Panels] = []
    problems = tuple(dict.fromkeys([*_make_up(job, windows, found), *level_problems(job)]))
    if problems:
        return ResolvedJob(job, lines, problems=problems)
    depths = [below_top(windows[one.window.name.casefold()], windows) for one in found]
    ways = _cuts(found, depths, job)
    cuts = ways.cuts[0]
    mine: dict[str, list[Cut]] = {}
    for cut in cuts:
        mine.setdefault(cut.window, []).append(cut)
    asked = named(job.windows)
    resolved = tuple(
        _window(one, tuple(mine[one.window.name]), depth, levels_of(one.window, asked)[-1].row is not None)
        for one, depth in zip(found, depths, strict=True)
    )
    return ResolvedJob(job, lines, resolved, cuts, ways=ways.cuts, all_ways=ways.all_told, shares=ways.shares)


def unanswered(keys: Iterable[PrintKey]) -> tuple[Problem, ...]:
    """One problem for each of these keys of a print that nobody has answered, in the order in which they are asked."""
    wanted = set(keys)
    return tuple(problem(path, code) for key, (code, path) in _ASKED.items() if key in wanted)


def _make_up(job: Job, windows: Mapping[str, Window], found: list[Panels]) -> Iterator[Problem]:
    """Make up the panels of every window into ``found``; what is wrong with those of which that cannot be done.

    ``windows`` are those by name, with the rules their rows hang by.
    """
    if not job.windows:
        yield problem(("windows",), Code.NO_WINDOW)
    seen: set[str] = set()
    for number, window in enumerate(job.windows):
        path: Path = ("windows", number)
        try:
            found.append(_panels(window, job, windows, path))
        except JobRefused as refused:
            yield from refused.problems
        if window.name in seen:
            yield problem((*path, "name"), Code.NAME_TWICE, name=window.name)
        seen.add(window.name)


def _panels(window: Window, job: Job, windows: Mapping[str, Window], path: Path) -> Panels:
    cuts = window.cuts_per_panel
    if (cuts, window.rod, window.flat).count(None) != 2:
        raise JobRefused([problem(path, Code.CUTS_OR_ROD)])
    if cuts is not None and ((2 * cuts).denominator != 1 or cuts <= 0):
        raise JobRefused([problem((*path, "cuts_per_panel"), Code.NOT_HALVES)])
    own = job.as_for(window)
    if job.cloth.run is Run.UP:
        return upright.panels_of(window, own, path)
    panels = sideways.panels_of(window, own, path)
    sideways.check_rows(panels, own, windows, path)
    return panels


def _cuts(found: Sequence[Panels], depths: Sequence[Fraction], job: Job) -> Ways:
    """All cuts, those that share a length side by side."""
    slugs = window_slugs(one.window.name for one in found)
    drafts: list[Draft] = []
    level: list[Cut] = []
    for one, depth in zip(found, depths, strict=True):
        slug = slugs[one.window.name]
        if isinstance(one, upright.Panels):
            drafts += upright.drafts_of(one, slug, depth, job.as_for(one.window))
        else:
            level += sideways.cuts_of(one, slug, depth, job.as_for(one.window))
    return ways_to_share(drafts, job) if job.cloth.run is Run.UP else sideways.stacked(level, job)


def _window(panels: Panels, cuts: tuple[Cut, ...], row: Fraction, row_is_asked: bool) -> ResolvedWindow:
    found = ResolvedWindow(panels.window, panels.width, panels.choice, cuts, row, row_is_asked)
    if isinstance(panels, sideways.LevelPanels):
        return found
    fit, trims = panels.fit, tuple(panels.fit.trims.items())
    narrow = bool(panels.strips)
    found = replace(found, seams=None if panels.pieces else panels.seams)
    return replace(found, count=panels.count, lost=fit.lost, trims=trims, is_narrow=narrow)
