"""What the cloths of a job say of each other, and what a window says of the cloths it is cut from."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from jobs.cutting.cloths import cannot_be_made, names_of_cloths
from jobs.io.sheet import Sheet
from jobs.model.job import Job
from jobs.model.problems import Code, Path
from jobs.model.window import Lining, Window

LAYERS = ("lining", "interlining")


def check_cloths(job: Job, sheet: Sheet) -> None:
    """Note cloths of one name, and windows and linings that name a cloth which is not there."""
    named: dict[str, int] = {}
    for number, cloth in enumerate(job.every_cloth):
        path = (*job.place_of_cloth(number), "name")
        if not sheet.sound(path):
            return
        first = named.setdefault(cloth.name.casefold(), number)
        if first != number:
            line = sheet.line_of((*job.place_of_cloth(first), "name"))
            sheet.refuse(path, Code.CLOTH_NAME_TWICE, name=cloth.name, line=line)
    for path, name in _called(job.windows):
        if sheet.has(*path) and sheet.sound(path) and name.casefold() not in named:
            close = difflib.get_close_matches(name.casefold(), named, 1)
            near = tuple(job.every_cloth[named[one]].name for one in close) or names_of_cloths(job)[:8]
            sheet.refuse(path, Code.NO_SUCH_CLOTH, name=name, near=near)


def check_levels_between(job: Job, sheet: Sheet) -> None:
    """Note windows that are level with one of another cloth, whose rows tell nothing of theirs."""
    cloths = {window.name.casefold(): window.cloth.casefold() for window in job.windows}
    first = job.cloth.name.casefold()
    for number, window in enumerate(job.windows):
        other = window.row.level_with if window.row is not None else None
        path: Path = ("windows", number, "row", "level_with")
        if other is None or other.casefold() not in cloths or not sheet.sound(path, ("windows", number, "cloth")):
            continue
        if (cloths[other.casefold()] or first) != (window.cloth.casefold() or first):
            sheet.refuse(path, Code.LEVEL_IN_ANOTHER_CLOTH, name=other)


def _called(windows: tuple[Window, ...]) -> Iterator[tuple[Path, str]]:
    """Where a window names a cloth, and which."""
    for number, window in enumerate(windows):
        yield ("windows", number, "cloth"), window.cloth
        for key in LAYERS:
            layer: Lining | None = getattr(window, key)
            if layer is not None:
                yield ("windows", number, key, "cloth"), layer.cloth


def check_linings(job: Job, sheet: Sheet) -> None:
    """Note what cannot be made for a window beside its face; whatever else is wrong with it is noted first."""
    for number, window in enumerate(job.windows):
        path: Path = ("windows", number)
        for key in LAYERS:
            if sheet.has(*path, key, "cuts_per_panel") and sheet.has(*path, "rod"):
                sheet.refuse((*path, key, "cuts_per_panel"), Code.CUTS_FOLLOW_THE_FACE)
        if sheet.sound(path, ("allowances",), ("returns_added",)):
            for found in cannot_be_made(number, window, job):
                sheet.note(found)
