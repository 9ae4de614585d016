"""What the keys of a window say of each other and of other windows; rows level with another window."""

from __future__ import annotations

from dataclasses import replace

from jobs.io.sheet import Sheet
from jobs.model.choices import HalfAt, Panels, Run
from jobs.model.goods import FlatPanel
from jobs.model.job import Job
from jobs.model.problems import Code, Path
from jobs.model.schema import ZERO
from jobs.model.window import RowRule, Window

ROD_KEYS = ("returns", "overlap", "fullness")
RULES = ("below_top", "above_foot", "level_with")
ONE_CUT = Window.cuts_per_panel


def check_windows(job: Job, sheet: Sheet, *, named: bool) -> None:
    """Note everything that is wrong with a window for itself, then with the windows that others are level with.

    The latter only where all windows of the file are ``named``.
    """
    for number, window in enumerate(job.windows):
        path: Path = ("windows", number)
        _check_width(path, sheet)
        _check_row(path, window, sheet)
        if sheet.has(*path, "hang") and sheet.sound((*path, "panels")) and window.panels is not Panels.PAIR:
            sheet.refuse((*path, "hang"), Code.ONLY_PAIRS_HANG)
        both = window.half_at is HalfAt.BOTH and sheet.sound((*path, "panels"), (*path, "half_at"))
        if both and window.panels is not Panels.WHOLE:
            sheet.refuse((*path, "half_at"), Code.ONLY_WHOLE_HAS_BOTH_SIDES)
    for number, panel in enumerate(job.flat_panels):
        _check_row(("flat_panels", number), panel, sheet)
    if named:
        _check_levels(job.windows, sheet)


def _check_width(path: Path, sheet: Sheet) -> None:
    if sheet.has(*path, "cuts_per_panel") and sheet.has(*path, "rod"):
        sheet.refuse((*path, "rod"), Code.CUTS_AND_ROD)
    elif not sheet.has(*path, "rod"):
        for key in ROD_KEYS:
            if sheet.has(*path, key):
                sheet.refuse((*path, key), Code.ONLY_WITH_ROD, key=key)


def _check_row(path: Path, window: Window | FlatPanel, sheet: Sheet) -> None:
    row = (*path, "row")
    if not sheet.has(*row) or window.row is None:
        return
    given = tuple(key for key in RULES if sheet.has(*row, key))
    if len(given) > 1:
        lines = tuple(sheet.line_of((*row, key)) for key in given)
        sheet.refuse((*row, given[1]), Code.ROW_FIXED_TWICE, keys=given, lines=lines)
    elif not given:
        sheet.refuse(row, Code.NOTHING_FIXES_ROW)
    if sheet.sound(("cloth",)) and not sheet.has("cloth", "repeat"):
        sheet.refuse(row, Code.PLAIN_HAS_NO_ROWS)
    distance = window.row.below_top if window.row.below_top is not None else window.row.above_foot
    if distance is not None and sheet.sound(row, (*path, "finished_length")) and distance > window.finished_length:
        sheet.refuse(row, Code.ROW_OUTSIDE_PANEL)


def check_names(job: Job, sheet: Sheet) -> bool:
    """Note windows and flat panels of one name, whatever their cloth; whether all have a name that can be read."""
    named: dict[str, Path] = {}
    listed: list[tuple[Path, str]] = [(("windows", at, "name"), one.name) for at, one in enumerate(job.windows)]
    listed += [(("flat_panels", at, "name"), one.name) for at, one in enumerate(job.flat_panels)]
    for path, name in listed:
        if not sheet.sound(path):
            return False
        first = named.setdefault(name.casefold(), path)
        if first != path:
            sheet.refuse(path, Code.NAME_TWICE, name=name, line=sheet.line_of(first))
    return True


def _check_levels(windows: tuple[Window, ...], sheet: Sheet) -> None:
    """Note windows level with one that cannot give them a height."""
    named: dict[str, int] = {}
    for number, window in enumerate(windows):
        named.setdefault(window.name.casefold(), number)
    for number, window in enumerate(windows):
        if _level_with(window) is not None and sheet.sound(("windows", number, "row")):
            _check_level(number, windows, named, sheet)


def _level_with(window: Window) -> str | None:
    return window.row.level_with.casefold() if window.row is not None and window.row.level_with is not None else None


def _check_level(number: int, windows: tuple[Window, ...], named: dict[str, int], sheet: Sheet) -> None:
    window, path = windows[number], ("windows", number, "row", "level_with")
    wanted = _level_with(window) or ""
    other = named.get(wanted)
    if other is None:
        from difflib import get_close_matches  # for what is refused

        near = get_close_matches(wanted, named, 1) or list(named)[:8]
        names = tuple(windows[named[known]].name for known in near)
        asked = window.row.level_with if window.row else ""
        sheet.refuse(path, Code.NO_SUCH_WINDOW, name=asked, near=names)
    elif other == number:
        sheet.refuse(path, Code.LEVEL_WITH_ITSELF)
    elif _in_a_circle(number, windows, named):
        line = sheet.line_of(("windows", other, "name"))
        sheet.refuse(path, Code.LEVEL_IN_A_CIRCLE, name=windows[other].name, line=line)
    else:
        for one in (number, other):
            height = ("windows", one, "top_height")
            if windows[one].top_height is None and sheet.sound(height):
                line = sheet.line_of(("windows", one, "name"))
                sheet.refuse(path, Code.HEIGHT_NOT_KNOWN, name=windows[one].name, line=line)


def _in_a_circle(start: int, windows: tuple[Window, ...], named: dict[str, int]) -> bool:
    seen: set[int] = set()
    at: int | None = start
    while at is not None:
        if at in seen:
            return at == start
        seen.add(at)
        at = named.get(_level_with(windows[at]) or "")
    return False


def windows_settled(job: Job, sheet: Sheet) -> Job:
    """The job with what a window takes where it is left out: one cut a panel, a row at the finished top."""
    return replace(job, windows=tuple(_settled(window, job) for window in job.windows))


def _settled(window: Window, job: Job) -> Window:
    if window.rod is None and window.cuts_per_panel is None:
        window = replace(window, cuts_per_panel=ONE_CUT)
    if window.row is None and job.cloth.repeat is not None and job.cloth.run is Run.UP:
        window = replace(window, row=RowRule(below_top=ZERO))
    return window
