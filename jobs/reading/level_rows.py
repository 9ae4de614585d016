"""What the windows of a job say of each other: names that repeat, and rows level with another window."""

from __future__ import annotations

import difflib

from jobs.numbers import quoted
from jobs.reading.problems import Log
from jobs.reading.window_keys import Listed


def check(windows: tuple[Listed, ...], log: Log) -> None:
    """Note windows of one name, and windows level with one that cannot give them a height."""
    named: dict[str, Listed] = {}
    for number, listed in enumerate(windows, 1):
        name = listed.window.name
        first = named.setdefault(name.casefold(), listed)
        if name and first is not listed:
            what = f"{quoted(name)} is the name of the window in line {first.name_place.line} as well"
            log.refuse(listed.name_place, f"windows {number}, name", what, "give each window a name of its own")
    if "" in named:
        return
    for number, listed in enumerate(windows, 1):
        if _level_with(listed) is not None:
            _check_level(listed, f"windows {number}, row, level_with", named, log)


def _level_with(listed: Listed) -> str | None:
    row = listed.window.row
    return row.level_with.casefold() if row is not None and row.level_with is not None else None


def _check_level(listed: Listed, where: str, named: dict[str, Listed], log: Log) -> None:
    name = _level_with(listed) or ""
    other = named.get(name)
    if other is None:
        shown = quoted(listed.window.row.level_with or "" if listed.window.row else "")
        near = difflib.get_close_matches(name, named, 1) or list(named)[:8]
        advice = f"write one of {', '.join(quoted(named[known].window.name) for known in near)}"
        log.refuse(listed.row_place, where, f"there is no window named {shown}", advice)
    elif other is listed:
        log.refuse(listed.row_place, where, "the window is level with itself", "name another window, or use below_top")
    elif _in_a_circle(listed, named):
        what = f"its rows are level with {_said(other)}, whose rows hang on those of this window again"
        log.refuse(listed.row_place, where, what, "give one of them below_top or above_foot")
    else:
        for one in (listed.window, other.window):
            if one.top_height is None:
                what = f"the height of {_said(named[one.name.casefold()])} above the floor is not known"
                log.refuse(listed.row_place, where, what, f"add top_height to {quoted(one.name)}")


def _in_a_circle(start: Listed, named: dict[str, Listed]) -> bool:
    seen: set[str] = set()
    at: Listed | None = start
    while at is not None:
        name = at.window.name.casefold()
        if name in seen:
            return at is start
        seen.add(name)
        at = named.get(_level_with(at) or "")
    return False


def _said(listed: Listed) -> str:
    """The name of a window and where it stands in the file."""
    return f"{quoted(listed.window.name)} (line {listed.name_place.line})"
