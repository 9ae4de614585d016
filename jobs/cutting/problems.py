"""Everything that keeps the cuts of a job from being worked out."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.cutting.columns import printed_width, seams
from jobs.cutting.hands import HANDS
from jobs.cutting.level_problems import level_problems
from jobs.cutting.mirroring import fit_of, pairing_of
from jobs.cutting.panels import panel_cuts
from jobs.cutting.sideways.problems import sideways_problems
from jobs.model.choices import Run
from jobs.model.job import Job
from jobs.model.problems import Code, JobRefused, Path, Problem, problem
from jobs.model.window import MOST_CUTS, Window
from jobs.prints.pairs import Pairing, hand_ways


def cut_problems(job: Job) -> list[Problem]:
    """Every problem of the windows; empty when ``cut_list`` gives an answer."""
    if not job.windows:
        return [problem(("windows",), Code.NO_WINDOW)]
    problems: list[Problem] = []
    seen: set[str] = set()
    for number, window in enumerate(job.windows):
        path: Path = ("windows", number)
        problems += _window_problems(window, job, path)
        if window.name in seen:
            problems.append(problem((*path, "name"), Code.NAME_TWICE, name=window.name))
        seen.add(window.name)
    return list(dict.fromkeys([*problems, *level_problems(job)]))


def _window_problems(window: Window, job: Job, path: Path) -> list[Problem]:
    """The first thing that is wrong with a window: what follows it would only puzzle."""
    upright = (_stated, _pair, _pair_fit, _count, _joining)
    for check in (_stated, _pair, sideways_problems) if job.cloth.run is Run.SIDEWAYS else upright:
        problems = list(check(window, job, path))
        if problems:
            return problems
    return []


def _stated(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    cuts = window.cuts_per_panel
    if (cuts is None) is (window.rod is None):
        yield problem(path, Code.CUTS_OR_ROD)
    elif cuts is not None and ((2 * cuts).denominator != 1 or cuts <= 0):
        yield problem((*path, "cuts_per_panel"), Code.NOT_HALVES)


def _pair(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    try:
        hand_ways(job.cloth, window.hang, HANDS[window.panels])
    except JobRefused as refused:
        # It stands at the window that asks for a mirrored pair: hung the same way, the print will do.
        yield from (Problem((*path, "hang"), one.code, one.values) for one in refused.problems)


def _pair_fit(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    cloth, pairing = job.cloth, pairing_of(window, job)
    across = cloth.repeat.across if cloth.repeat else None
    if pairing is Pairing.OWN_IMAGE and cloth.drop and across is None:
        yield problem((*path, "hang"), Code.PAIR_NEEDS_ACROSS)
        return
    lost = fit_of(window, job).lost
    if lost and lost >= printed_width(cloth) / 2 - 2 * job.allowances.side_hem:
        yield problem((*path, "hang"), Code.TRIM_LEAVES_TOO_LITTLE, lost=lost)


def _count(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    try:
        cuts = panel_cuts(window, job)
    except ValueError:
        if job.cloth.repeat is not None and job.cloth.repeat.across is None:
            yield problem((*path, "rod"), Code.ACROSS_NOT_KNOWN)
        else:
            room = printed_width(job.cloth) - 2 * job.allowances.seam
            yield problem((*path, "rod"), Code.NO_WHOLE_COLUMN, room=room)
        return
    if cuts > MOST_CUTS:
        yield problem((*path, "rod"), Code.TOO_MANY_CUTS, cuts=cuts, most=MOST_CUTS)


def _joining(window: Window, job: Job, path: Path) -> Iterator[Problem]:
    cuts, between = panel_cuts(window, job), seams(job.cloth, job.allowances.seam)
    if cuts <= 1:
        return
    if between.near >= between.far:
        yield problem(path, Code.SEAMS_LEAVE_NOTHING)
    elif job.cloth.drop and not between.columns:
        yield problem(path, Code.DROP_NEEDS_COLUMNS)
