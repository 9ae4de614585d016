"""Joined cuts held against their job by the plainest arithmetic, knowing nothing of how seams and counts are found."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import count, pairwise

from jobs.model.choices import HalfAt, Panels, ReturnsAdded, Run
from jobs.model.cuts import Cut, Edge, Side
from jobs.model.job import Job
from jobs.model.window import Window

HALF = Fraction(1, 2)


def seam_faults(job: Job, cuts: Iterable[Cut]) -> list[str]:
    """Everything that is wrong with how cuts of cloth run up are joined into panels, in words."""
    if job.cloth.run is Run.SIDEWAYS:
        return []
    panels: dict[tuple[str, str], list[Cut]] = defaultdict(list)
    for cut in sorted(cuts, key=lambda cut: cut.number):
        panels[cut.window, cut.hand].append(cut)
    windows = {window.name: window for window in job.windows}
    found: list[str] = []
    for (name, _), panel in panels.items():
        if name not in windows:
            found.append(f"{name} is no window")
            continue
        own = _with_own_allowances(job, windows[name])
        wrong = [fault for one, other in pairwise(panel) for fault in _seam_faults(one, other, windows[name], own)]
        wrong += _width_faults(panel, windows[name], own)
        found += (f"{panel[0].panel}: {fault}" for fault in wrong)
    return found


def _with_own_allowances(job: Job, window: Window) -> Job:
    own = window.allowances
    names = ("heading", "hem", "side_hem", "seam", "least_seam")
    given = {name: getattr(own, name) for name in names if getattr(own, name, None) is not None}
    return replace(job, allowances=replace(job.allowances, **given))


def _side(cut: Cut, edge: Edge) -> Side:
    return cut.leading_side if edge is cut.leading_edge else cut.return_side


def _line(cut: Cut, edge: Edge) -> Fraction:
    """Where a side is sewn, from the near selvedge."""
    inside = _side(cut, edge).line
    return cut.across[0] + inside if edge is Edge.NEAR else cut.across[1] - inside


def _strip(edge: Edge, job: Job) -> Fraction:
    return job.cloth.near_selvedge if edge is Edge.NEAR else job.cloth.far_selvedge


def _printed(job: Job) -> Fraction:
    return job.cloth.width - job.cloth.near_selvedge - job.cloth.far_selvedge


def _seam_faults(one: Cut, other: Cut, window: Window, job: Job) -> Iterator[str]:
    cut_to_its_width = window.flat is not None and window.made is not None and window.made.exact
    yield from _outside(one, one.return_edge, job, cut_to_its_width)
    yield from _outside(other, other.leading_edge, job, cut_to_its_width)
    repeat, drop = job.cloth.repeat, job.cloth.drop
    if repeat is None:
        return
    before, after = _line(one, one.return_edge), _line(other, other.leading_edge)
    moved = ((other.row or 0) - (one.row or 0)) * (1 if one.top_edge is Edge.FIRST else -1)
    if repeat.across is None or (repeat.across > _printed(job) and not drop):
        # No column comes twice on the cloth: straight rows meet wherever the edges are put together.
        columns = Fraction(0)
    elif repeat.across > _printed(job):
        # One column, of which only the selvedge strips are missing.
        columns = Fraction(1 if before > after else -1)
        if abs(before - after) != _printed(job):
            yield "joined elsewhere than at the printed edges"
    else:
        columns = (before - after) / repeat.across
    # The print at (along, across) is that at (along + n d V, across + n W), n whole. Who says how many cuts a panel has
    # may join a straight print as it comes.
    by_hand = window.rod is None and not drop and columns.denominator != 1
    if not by_hand and (columns.denominator != 1 or (moved - columns * drop * repeat.along) % repeat.along):
        yield f"the print does not run on over {columns} columns"


def _outside(cut: Cut, edge: Edge, job: Job, cut_to_its_width: bool) -> Iterator[str]:
    """The least seam stays outside a seam of a print, else what a seam takes, selvedge and all; no strip is seen.

    What is cut to its own width may be slit anywhere across the cloth.
    """
    given, side = job.allowances, _side(cut, edge)
    if not cut_to_its_width and edge.at((cut.across[0], cut.across[1]), cut.across) not in (0, job.cloth.width):
        if job.cloth.repeat is not None or side.line != given.seam:
            yield "a seam along a slit"
        return
    if side.line < (given.least_seam if job.cloth.repeat is not None else given.seam):
        yield f"{side.line} is left outside a seam"
    seam = _line(cut, edge)
    if not _strip(Edge.NEAR, job) <= seam <= job.cloth.width - _strip(Edge.FAR, job):
        yield "a seam lies on the selvedge strip"
    if side.trim and side.line - side.trim < given.seam:
        yield "too much is trimmed beyond a seam"


def _width_faults(panel: list[Cut], window: Window, job: Job) -> Iterator[str]:
    """A panel is as wide as its rod asks for, and has no half cut too many, counted to its outer printed edges."""
    if window.rod is None:
        return
    ends = {Panels.PAIR: 2, Panels.WHOLE: 2, Panels.LEFT: 1, Panels.RIGHT: 1}[window.panels] * window.returns
    before = job.returns_added is ReturnsAdded.BEFORE
    flat = (window.rod + window.overlap + (ends if before else 0)) * window.fullness + (0 if before else ends)
    yield from count_faults(panel, flat / (2 if window.panels is Panels.PAIR else 1), window.half_at, job)


def count_faults(panel: list[Cut], wanted: Fraction, half_at: HalfAt, job: Job) -> Iterator[str]:
    """The same of a panel that is ``wanted`` wide between its finished sides; the job has the allowances of it."""
    sewn = sum(abs(_line(cut, cut.leading_edge) - _line(cut, cut.return_edge)) for cut in panel)
    if sewn < wanted:
        yield f"{sewn} wide instead of {wanted}"
    if len(panel) == 1:
        return
    parts = [(cut.across[1] - cut.across[0]) / job.cloth.width for cut in panel]
    cuts, both = sum(parts, Fraction(0)), half_at is HalfAt.BOTH
    if both and (parts != parts[::-1] or parts[len(parts) // 2] != 1):
        yield "no whole cut lies in the middle"
    if not both and sorted(parts, reverse=half_at is not HalfAt.LEADING) != parts:
        yield "its half cut lies elsewhere"
    lost = sum(_lost(panel[at], edge, job) for at, edge in ((0, panel[0].leading_edge), (-1, panel[-1].return_edge)))
    reach = _reach_of_both if both else _reach
    needed = wanted + 2 * job.allowances.side_hem + lost
    least = next(n for n in (k * HALF for k in count(1)) if reach(n, job) >= needed)
    if cuts != max(least, 1):
        yield f"{cuts} cuts instead of {least}"


def _lost(cut: Cut, edge: Edge, job: Job) -> Fraction:
    """How much of the print is trimmed at an outer side so that a pair mirrors."""
    side = _side(cut, edge)
    at_selvedge = edge.at(cut.across, cut.across) in (0, job.cloth.width)
    return side.trim - (_strip(edge, job) if at_selvedge else 0) if side.trim else Fraction(0)


def _reach_of_both(cuts: Fraction, job: Job) -> Fraction:
    """The same with a whole cut in the middle: two halves, or two quarters, each from its seam to its slit."""
    if cuts <= 1 or cuts % 2 == 1:
        return _reach(cuts, job)
    outside = job.cloth.width - _between(job)  # of both seams of one cut
    if cuts % 1 == 0:
        return (cuts - 1) * _between(job) + job.cloth.width - outside
    return (cuts - HALF) * _between(job) + job.cloth.width / 2 - outside if (cuts - HALF) % 2 else Fraction(0)


def _reach(cuts: Fraction, job: Job) -> Fraction:
    """The width of so many cuts: outer printed edge, seams as far apart as they may lie, outer printed edge or slit."""
    cloth, between = job.cloth, _between(job)
    if cuts.denominator == 1:
        return _printed(job) + (cuts - 1) * between
    return cloth.width / 2 - max(cloth.near_selvedge, cloth.far_selvedge) + (cuts - HALF) * between


def _between(job: Job) -> Fraction:
    cloth, given = job.cloth, job.allowances
    least = given.seam if cloth.repeat is None else given.least_seam
    room = cloth.width - max(cloth.near_selvedge, least) - max(cloth.far_selvedge, least)
    across = cloth.repeat.across if cloth.repeat is not None else None
    return room if across is None or across > _printed(job) else room // across * across
