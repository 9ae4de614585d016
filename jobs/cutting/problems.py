"""Everything that keeps the cuts of a job from being worked out."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.cutting.columns import printed_width, seams
from jobs.cutting.hands import HANDS
from jobs.cutting.level_problems import level_problems
from jobs.cutting.mirroring import fit_of, pairing_of
from jobs.cutting.panels import panel_cuts
from jobs.cutting.sideways.problems import sideways_problems
from jobs.job import Job, Run, Window
from jobs.lengths import show_length
from jobs.prints import Pairing, hand_ways
from jobs.refusals import JobRefused, Problem

MOST_CUTS = 60


def cut_problems(job: Job) -> list[Problem]:
    """Every problem of the windows with what to write instead; empty when ``cut_list`` gives an answer."""
    if not job.windows:
        return [Problem("windows", "the job has no window, so there is nothing to cut", "write at least one window")]
    problems: list[Problem] = []
    seen: set[str] = set()
    for window in job.windows:
        problems += _window_problems(window, job)
        if window.name in seen:
            what = "two windows have this name, so their cuts could not be told apart"
            problems.append(of_window(window, what, "give each window its own name"))
        seen.add(window.name)
    return list(dict.fromkeys([*problems, *level_problems(job)]))


def of_window(window: Window, what: str, advice: str) -> Problem:
    """A problem that stands at a window of the file."""
    return Problem(f"window {window.name}", what, advice, window.place)


def _window_problems(window: Window, job: Job) -> list[Problem]:
    """The first thing that is wrong with a window: what follows it would only puzzle."""
    upright = (_stated, _pair, _pair_fit, _count, _joining)
    for check in (_stated, _pair, _sideways) if job.cloth.run is Run.SIDEWAYS else upright:
        problems = list(check(window, job))
        if problems:
            return problems
    return []


def _stated(window: Window, job: Job) -> Iterator[Problem]:
    cuts = window.cuts_per_panel
    if (cuts is None) is (window.rod is None):
        what = "the panels need either the number of their cuts or a rod to work it out from"
        yield of_window(window, what, "write `cuts_per_panel` or `rod`, one of the two")
    elif cuts is not None and ((2 * cuts).denominator != 1 or cuts <= 0):
        yield of_window(window, f"only whole and half cuts are joined, not {cuts}", "write 1, 1 1/2, 2 and so on")


def _sideways(window: Window, job: Job) -> Iterator[Problem]:
    yield from (of_window(window, what, advice) for what, advice in sideways_problems(window, job))


def _pair(window: Window, job: Job) -> Iterator[Problem]:
    try:
        hand_ways(job.cloth, window.hang, HANDS[window.panels])
    except JobRefused as refused:
        yield from (of_window(window, one.what, one.advice) for one in refused.problems)


def _pair_fit(window: Window, job: Job) -> Iterator[Problem]:
    cloth, pairing = job.cloth, pairing_of(window, job)
    across = cloth.repeat.across if cloth.repeat else None
    if pairing is Pairing.OWN_IMAGE and cloth.drop and across is None:
        what = "the rows of a mirrored pair of half-drop cloth depend on the repeat across, which is not known"
        yield of_window(window, what, "write `repeat: {along: ..., across: ...}`")
        return
    lost = fit_of(window, job).lost
    if lost and lost >= printed_width(cloth) / 2 - 2 * job.allowances.side_hem:
        what = (
            f"the edges of this pair mirror only when {show_length(lost, job.unit)} of the width is trimmed from each "
            "panel, which leaves too little"
        )
        yield of_window(window, what, "write `hang: same`, or take wider cloth")


def _count(window: Window, job: Job) -> Iterator[Problem]:
    try:
        cuts = panel_cuts(window, job)
    except ValueError:
        room = show_length(printed_width(job.cloth) - 2 * job.allowances.seam, job.unit)
        what = f"the panel is wider than one cut, and no whole column of the print fits into {room} between two seams"
        if job.cloth.repeat is not None and job.cloth.repeat.across is None:
            what = "the panel is wider than one cut, and the repeat across is not known"
        yield of_window(window, what, "measure the repeat across, the selvedge and the seam, or write `cuts_per_panel`")
        return
    if cuts > MOST_CUTS:
        what = f"the panel would take {cuts} cuts, more than {MOST_CUTS}"
        yield of_window(window, what, "look for a slip of the finger in rod, fullness or cloth width")


def _joining(window: Window, job: Job) -> Iterator[Problem]:
    cuts, between = panel_cuts(window, job), seams(job.cloth, job.allowances.seam)
    if cuts <= 1:
        return
    if between.near >= between.far:
        what = "two seams leave nothing of the cloth width"
        yield of_window(window, what, "correct the seam allowance, the selvedge or the cloth width")
    elif job.cloth.drop and not between.columns:
        what = (
            "cuts of cloth with a drop can only be joined on whole columns, and none is known to lie between the seams"
        )
        yield of_window(
            window, what, "measure the repeat across, the selvedge and the seam, or write one cut per panel"
        )
