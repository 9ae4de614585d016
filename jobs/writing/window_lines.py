"""The key ``windows`` as lines of a job file."""

from __future__ import annotations

from jobs.job import ZERO, Panels, RowRule, Unit, Window
from jobs.writing import scalars
from jobs.writing.lines import flow, item, line


def window_lines(windows: tuple[Window, ...], unit: Unit) -> list[str]:
    """The lines of all windows."""
    lines = [line(0, "windows")]
    for window in windows:
        lines += item(2, _one(window, unit))
    return lines


def _one(window: Window, unit: Unit) -> list[str]:
    lines = [
        line(4, "name", scalars.text(window.name)),
        line(4, "panels", window.panels.value, "pair | left | right | whole, seen from inside"),
    ]
    if window.room:
        lines.append(line(4, "room", scalars.text(window.room), "windows of one room come from one dye lot"))
    if window.panels is Panels.PAIR:
        lines.append(line(4, "hang", window.hang.value, "mirrored | same"))
    if window.top_height is not None:
        height = scalars.length(window.top_height, unit)
        lines.append(line(4, "top_height", height, "finished top above the floor"))
    lines.append(line(4, "finished_length", scalars.length(window.finished_length, unit), "top of heading to foot"))
    if window.rod is not None:
        lines += [
            line(4, "rod", scalars.length(window.rod, unit), "the cuts are worked out from these four"),
            line(4, "returns", scalars.length(window.returns, unit), "one return, rod to wall"),
            line(4, "overlap", scalars.length(window.overlap, unit), "where the two panels meet"),
            line(4, "fullness", scalars.number(window.fullness), "flat width over finished width"),
        ]
    elif window.cuts_per_panel is not None:
        lines.append(line(4, "cuts_per_panel", scalars.number(window.cuts_per_panel), "joined side by side"))
    if window.row is not None:
        lines.append(line(4, "row", _row(window.row, unit), "where a row of the print shall stand"))
    if not window.side_by_side:
        lines.append(line(4, "side_by_side", "no", "its narrow cuts get a length of their own"))
    return lines


def _row(rule: RowRule, unit: Unit) -> str:
    if rule.level_with is not None:
        return flow([("level_with", scalars.text(rule.level_with))])
    if rule.above_foot is not None:
        return flow([("above_foot", scalars.length(rule.above_foot, unit))])
    return flow([("below_top", scalars.length(rule.below_top or ZERO, unit))])
