"""The words of what was left out of a job and what was taken instead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import StrEnum
from fractions import Fraction
from typing import Any

from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.lengths import show_cut, show_length, show_order
from jobs.model.problems import Code, Path, Problem
from jobs.model.schema import key_at

_TAKEN = {
    "units": "No units are given: numbers without a unit are taken as inches.",
    "allowances": "No allowances are given: heading, hem, side hem, seam and squaring are taken as 0.",
    "selvedge": "No selvedge is given: the whole cloth width is taken as usable.",
    "first_row": "the first row is taken to lie at the first end (first_row 0).",
    "cuts_per_panel": "neither cuts_per_panel nor rod is given; one cut per panel is taken.",
    "fullness": "no fullness is given; 2 is taken.",
    "row": "no row is given; a row is put at the finished top (below_top 0).",
}
_SIDEWAYS_ROW = "no row is given; the print is taken as it lies across the cloth."
_SAID: dict[StrEnum, str] = {
    Code.TABLE_ENDS_AT_MARK: "No table is given: it is taken to end at the outermost mark, {length} along. If it is "
    "longer, give table: {{length: …, width: …}}.",
    Code.LIGHT_REACHES: "the light reaches only about {length} across the cloth; beyond that, draw the lines on with a "
    "ruler",
}
_MIRROR = "The print is taken to mirror from side to side too, as its other mirror and half-turn say."


def notice_lines(job: Job) -> Iterator[str]:
    """Every notice of the job once, with the names of the windows or pieces it is about before it."""
    allowances = [
        one for one in job.notices if one.path[0] == "allowances" and len(one.path) > 1 and one.code is Code.LEFT_OUT
    ]
    told: dict[str, list[str]] = {}
    for notice in job.notices:
        if notice not in allowances:
            named_by = [] if notice.code is Code.ROWS_UNLEVEL else _name(notice.path, job)
            told.setdefault(_text(notice, job.unit), []).extend(named_by)
        elif notice is allowances[0]:
            named = ", ".join(str(one.path[-1]).replace("_", " ") for one in allowances)
            told[f"No allowance is given for {named}: 0 is taken."] = []
    for text, names in told.items():
        yield f"{', '.join(names)}: {text}" if names else text


def _text(notice: Problem, unit: Unit) -> str:
    if notice.code is Code.MIRROR_FOLLOWS:
        return _MIRROR
    if notice.code is Code.ASSUMED:
        return _assumed(notice, unit)
    if notice.code is Code.COLUMNS_TAKEN:
        return _columns(notice, unit)
    if notice.code is Code.ROWS_UNLEVEL:
        return _unlevel(notice, unit)
    if notice.code is Code.ALLOWANCE_OF_KIND:
        return _of_kind(notice, unit)
    if notice.code in _SAID:
        length = notice.value("length")
        return _SAID[notice.code].format(length=show_cut(length, unit) if isinstance(length, Fraction) else length)
    name = str(notice.path[-1])
    if name == "row" and notice.value("sideways"):
        return _SIDEWAYS_ROW
    if name in _TAKEN:
        return _TAKEN[name]
    key = key_at(Job, notice.path)
    return f"{name} is not given; taken: {key.usual if key is not None else 'nothing'}."


def _of_kind(notice: Problem, unit: Unit) -> str:
    said: dict[str, Any] = dict(notice.values)
    whole = notice.path[0] == "allowances"
    start = f"{'No' if whole else 'no'} {notice.path[-1]} is given"
    return f"{start}; {show_length(said['length'], unit)} is taken, as is usual ({said['kind']})."


_ASKED = {
    "drop": "how far the next column of the print sits lower",
    "top_to_bottom": "whether the print mirrors from top to bottom",
    "side_to_side": "whether the print mirrors from side to side",
    "one_way": "whether the cloth must hang one way up",
}


def _assumed(notice: Problem, unit: Unit) -> str:
    """What is not known, which answers were taken and what to do, in one paragraph."""
    said: dict[str, Any] = dict(notice.values)
    open_ = ", ".join(_ASKED[key] for key in said["asked"])
    taken = ", ".join(f"`{one}`" for one in said["taken"])
    least = show_order(said["least"], unit, said["sold_by"])
    refused = " With some answers no such pair can be cut from it at all." if said["some_refused"] else ""
    return (
        f"Not known yet: {open_}. This is reckoned for the dearest case, {taken}, a mirror line lying on a row; in the "
        f"cheapest {least} would be bought.{refused} Look at the cloth and write the answers before it is cut."
    )


def _columns(notice: Problem, unit: Unit) -> str:
    said: dict[str, Any] = dict(notice.values)
    across = show_length(said["across"], unit)
    return (
        "The repeat across is not known. To order it is taken that whole columns fill the print, as they do on most "
        f"cloth: {across} across, the dearest of one to four columns. Where they do not fill it, more cuts may be "
        "needed. To plan and to cut it must be known: measure it and write `across` below `repeat`."
    )


def _unlevel(notice: Problem, unit: Unit) -> str:
    said: dict[str, Any] = dict(notice.values)
    off, value = (show_length(said[name], unit) for name in ("off", "value"))
    return (
        f"{said['room']}: the rows of {said['other']} and {said['window']} hang {off} out of level. For level rows "
        f"write `row: {{level_with: {said['other']}}}` in {said['window']}, or `row: {{{said['key_name']}: {value}}}`."
    )


def _name(path: Path, job: Job) -> Sequence[str]:
    if path[0] == "windows" and isinstance(path[1], int):
        return [job.windows[path[1]].name]
    if path[:2] == ("cloth", "pieces") and isinstance(path[2], int):
        return [f"piece {path[2] + 1}"]
    return []
