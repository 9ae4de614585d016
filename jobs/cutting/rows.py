"""Where a row of the print hangs: by its top, by its foot, level with another window, across seams and in a room."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from jobs.cutting.columns import rows_apart
from jobs.model.choices import Run
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Way
from jobs.model.job import Job
from jobs.model.problems import Code, Path, Problem, problem
from jobs.model.schema import ZERO
from jobs.model.window import Window


def named(windows: tuple[Window, ...]) -> dict[str, Window]:
    """The windows by name, as ``level_with`` looks for them: capital and small letters are alike."""
    found: dict[str, Window] = {}
    for window in windows:
        found.setdefault(window.name.casefold(), window)
    return found


def levels_of(window: Window, windows: Mapping[str, Window]) -> list[Window]:
    """The window, the one it is level with, the one that is level with, and so on; ends before a name comes again."""
    chain, seen = [window], {window.name.casefold()}
    while (rule := chain[-1].row) is not None and rule.level_with is not None:
        name = rule.level_with.casefold()
        if name in seen or name not in windows:
            break
        seen.add(name)
        chain.append(windows[name])
    return chain


def is_level(window: Window, windows: Mapping[str, Window]) -> bool:
    """Whether it is known where the rows of a window hang: by its own rule, or level with another at known heights."""
    chain = levels_of(window, windows)
    ends = chain[-1].row is None or chain[-1].row.level_with is None
    return ends and (len(chain) == 1 or all(one.top_height is not None for one in chain))


def below_top(window: Window, windows: Mapping[str, Window]) -> Fraction:
    """Finished distance from the finished top down to a row, before whole repeats are taken away.

    Level with another window: height of this top - height of the other's row, both above the floor. Needs a chain of
    windows with ``top_height`` that ends in one with a row of its own (no rule: a row at its top).
    """
    *level, last = levels_of(window, windows)
    rule = last.row
    depth = ZERO
    if rule is not None and rule.above_foot is not None:
        depth = last.finished_length - rule.above_foot
    elif rule is not None and rule.below_top is not None:
        depth = rule.below_top
    if not level:
        return depth
    if window.top_height is None or last.top_height is None:
        raise ValueError("rows can only be level between windows whose top_height is known")
    return window.top_height - (last.top_height - depth)


def row_step(cloth: Cloth, columns: int, top_edge: Edge, leads: Edge) -> Fraction:
    """What to add to the row of a cut to get that of the next cut, away from the leading edge, ``columns`` columns on.

    A column further from the near selvedge has its rows ``drop`` repeats further along. Where the far selvedge leads,
    the near seam of this cut meets the far seam of the next, ``columns`` columns further across, so the next cut shows
    its rows that much earlier; where the near selvedge leads, that much later. Along counts down from the top where the
    top lies first, up where it lies last.
    """
    if cloth.repeat is None:
        return ZERO
    return top_edge.sense * leads.sense * columns * cloth.drop * cloth.repeat.along


def phase_of(row: Fraction | None, length: Fraction, top_edge: Edge, way: Way, cloth: Cloth) -> Fraction:
    """From a row to the first edge of a cut whose top lies towards an end, its row ``row`` below the top edge.

    In [0, repeat); 0 on plain cloth. Rows lie at ``f + k V`` along the piece (``V`` the repeat along, ``f`` the first
    row), the next top-to-bottom mirror line at ``f + m``. A cut wants a row ``t`` below its top edge:

    ==================  ========================  ========================
    way                 top towards first end     top towards last end
    ==================  ========================  ========================
    upright, face down  start = f - t             end = f + t
    turned              start = f + 2 m - t       end = f + 2 m + t
    ==================  ========================  ========================

    Upright, depth ``d`` below the top shows the print at ``f - t + d``. A mirror line at ``f + m`` makes the print at
    ``x`` the mirror image of the print at ``2 f + 2 m - x``, here ``f + 2 m + t - d``: that is depth ``d`` of a turned
    cut whose top edge, the last one, is at ``f + 2 m + t``. With the motif's top towards the last end the same argument
    gives the other column. ``m`` is counted along, away from the first end: the offset itself, which a job measures
    down the hanging cloth, where the tops point to the first end, and the offset the other way where to the last.
    """
    if cloth.repeat is None or row is None:
        return ZERO
    shift = 2 * cloth.print.mirror_along if way is Way.TURNED else ZERO
    return (shift + top_edge.sense * row - (length if top_edge is Edge.LAST else ZERO)) % cloth.repeat.along


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
