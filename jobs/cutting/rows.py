"""Where a row of the print lies in a cut: by its top, by its foot, level with another window, and across seams."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from jobs.model.cloth import Cloth
from jobs.model.cuts import Selvedge
from jobs.model.job import Allowances
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


def first_row(depth: Fraction, allowances: Allowances, cloth: Cloth) -> Fraction | None:
    """Distance from a cut's top edge to its first row, in [0, repeat), for a row ``depth`` below the finished top.

    All of it is measured on cloth that has not shrunk yet; None for plain cloth.
    """
    if cloth.repeat is None:
        return None
    return (allowances.heading + depth) / (1 - cloth.shrinkage) % cloth.repeat.along


def row_step(cloth: Cloth, columns: int, top_first: bool, leads: Selvedge) -> Fraction:
    """What to add to the row of a cut to get that of the next cut, away from the leading edge, ``columns`` columns on.

    A column further from the near selvedge has its rows ``drop`` repeats further along. Where the far selvedge leads,
    the near seam of this cut meets the far seam of the next, ``columns`` columns further across, so the next cut shows
    its rows that much earlier; where the near selvedge leads, that much later. Along counts down from the top where the
    top lies first, up where it lies last.
    """
    if cloth.repeat is None:
        return ZERO
    sense = 1 if top_first is (leads is Selvedge.NEAR) else -1
    return sense * columns * cloth.drop * cloth.repeat.along
