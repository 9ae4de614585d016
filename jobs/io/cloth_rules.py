"""What the cloths of a job say of each other, and what a window says of the cloths it is cut from."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.cutting.cloths import cannot_be_made, names_of_cloths
from jobs.io.sheet import Sheet
from jobs.model.job import Job
from jobs.model.problems import Code, Path

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
    for path, name in _called(job):
        if sheet.has(*path) and sheet.sound(path) and name.casefold() not in named:
            from difflib import get_close_matches  # for what is refused

            close = get_close_matches(name.casefold(), named, 1)
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


def _called(job: Job) -> Iterator[tuple[Path, str]]:
    """Where something names its cloth, and which."""
    for number, window in enumerate(job.windows):
        path: Path = ("windows", number)
        yield (*path, "cloth"), window.cloth
        parts = ((key, getattr(window, key)) for key in (*LAYERS, "tie_backs"))
        yield from (((*path, key, "cloth"), part.cloth) for key, part in parts if part is not None)
        yield from (((*path, "bands", at, "cloth"), band.cloth) for at, band in enumerate(window.bands))
    yield from ((("flat_panels", number, "cloth"), one.cloth) for number, one in enumerate(job.flat_panels))
    yield from ((("wanted", number, "cloth"), one.cloth) for number, one in enumerate(job.wanted))


def check_flat_panels(job: Job, sheet: Sheet) -> None:
    """Note panels that shall go on from one that does not stand before them, or is cut from another cloth."""
    before: dict[str, str] = {}
    first = job.cloth.name.casefold()
    for number, panel in enumerate(job.flat_panels):
        path: Path = ("flat_panels", number, "beside")
        if panel.beside and sheet.sound(path):
            cloth = before.get(panel.beside.casefold())
            if cloth is None:
                sheet.refuse(path, Code.NO_SUCH_FLAT_PANEL, name=panel.beside)
            elif (cloth or first) != (panel.cloth.casefold() or first):
                sheet.refuse(path, Code.BESIDE_ANOTHER_CLOTH, name=panel.beside)
        before[panel.name.casefold()] = panel.cloth.casefold()


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
