"""What the keys of a job say of each other: contradictions are refused, what follows is filled in, the rest is told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar

from jobs.cutting.cloths import Frame, frames_of
from jobs.io.cloth_rules import check_cloths, check_flat_panels, check_levels_between, check_linings
from jobs.io.print_rules import print_settled
from jobs.io.sheet import Sheet, SheetOfCloth
from jobs.io.window_rules import check_names, check_windows, windows_settled
from jobs.model.allowances import Allowances, OwnAllowances, usual_allowance
from jobs.model.choices import End, Follow, Motif, Run, Symmetry, TurnedOver
from jobs.model.cloth import Cloth
from jobs.model.job import Job, allowances_of
from jobs.model.piece import Piece
from jobs.model.print import SMALLEST_REPEAT
from jobs.model.problems import Code, Path, Problem, problem
from jobs.model.schema import Group, keys_of

CLOTH: Path = ("cloth",)
PRINT: Path = ("cloth", "print")
REPEAT: Path = ("cloth", "repeat")
NARROWEST_PINS = Fraction(1, 2)
Own = TypeVar("Own", Allowances, OwnAllowances)
WIDEST = Fraction(400)
"""The widest looms for furnishing cloth make a third of this (common practice, no source)."""


def settled(job: Job, sheet: Sheet) -> Job:
    """The job with what follows from its keys filled in and what was left out told; problems go to the sheet.

    What is said of a cloth and of the windows that are cut from it is judged cloth by cloth.
    """
    job = _with_first_cloth(job, sheet)
    check_cloths(job, sheet)
    named = check_names(job, sheet)
    job, kinds = _of_kinds(job, sheet)
    check_levels_between(job, sheet)
    _check_sewing(job, sheet)
    cloths, windows = list(job.every_cloth), list(job.windows)
    of_cloths: list[Problem] = []
    of_windows: list[Problem] = []
    for number, frame in frames_of(job):
        places = [int(path[1]) for path in frame.windows]
        wanted = tuple(job.wanted[int(path[1])] for path in frame.wanted)
        panels = tuple(job.flat_panels[int(path[1])] for path in frame.flat_panels)
        mine = tuple(windows[at] for at in places)
        one = replace(job, cloth=cloths[number], cloths=(), windows=mine, wanted=wanted, flat_panels=panels)
        seen = SheetOfCloth(sheet, frame.in_file)
        one = _settled(one, seen, named)
        cloths[number] = one.cloth
        for at, window in zip(places, one.windows, strict=True):
            windows[at] = window
        of_cloths += _in_file(_left_out((*CLOTH,), Cloth, seen), frame)
        of_windows += _in_file(_notices_of_windows(one, seen), frame)
    job = replace(job, cloth=cloths[0], cloths=tuple(cloths[1:]), windows=tuple(windows))
    check_linings(job, sheet)
    check_flat_panels(job, sheet)
    taken = {one.path for one in kinds}
    left_out = [one for one in _notices(sheet, of_cloths) if one.path not in taken]
    return replace(job, notices=(*left_out, *kinds, *of_windows))


def _of_kinds(job: Job, sheet: Sheet) -> tuple[Job, list[Problem]]:
    """The job with the usual allowance of each kind of heading or hem that stands without a length; what was taken."""
    found: list[Problem] = []

    def filled(of: Own, path: Path) -> Own:
        for name in ("heading", "hem"):
            kind = getattr(of, f"{name}_kind")
            if kind is not None and sheet.sound((*path, f"{name}_kind")) and not sheet.has(*path, name):
                length = usual_allowance(kind, job.unit)
                found.append(problem((*path, name), Code.ALLOWANCE_OF_KIND, kind=kind.value, length=length))
                of = replace(of, heading=length) if name == "heading" else replace(of, hem=length)
        return of

    allowances = filled(job.allowances, ("allowances",))
    windows = tuple(
        replace(one, allowances=filled(one.allowances, ("windows", at, "allowances"))) if one.allowances else one
        for at, one in enumerate(job.windows)
    )
    return replace(job, allowances=allowances, windows=windows), found


def _with_first_cloth(job: Job, sheet: Sheet) -> Job:
    """The job with its first cloth in its place, where the file has all of them in one list."""
    if sheet.has("cloth") or not sheet.has("cloths"):
        return job
    if not job.cloths:
        if sheet.sound(("cloths",)):
            sheet.refuse(("cloths",), Code.LIST_TOO_SHORT, count=0, least=1)
        return job
    return replace(job, cloth=job.cloths[0], cloths=job.cloths[1:], listed=True)


def _settled(job: Job, sheet: Sheet, named: bool) -> Job:
    """The same of a job of one cloth; ``named`` tells that all windows of the file have names."""
    _check_sizes(job.cloth, sheet)
    job = replace(job, cloth=print_settled(job.cloth, sheet))
    _check_print(job.cloth, sheet)
    _check_columns(job.cloth, sheet)
    _check_run(job.cloth, sheet)
    for number, piece in enumerate(job.cloth.pieces):
        _check_piece(piece, (*CLOTH, "pieces", number), job.cloth, sheet)
    _check_wanted(job, sheet)
    check_windows(job, sheet, named=named)
    return replace(windows_settled(job, sheet), cloth=_cloth_settled(job.cloth))


def _check_sizes(cloth: Cloth, sheet: Sheet) -> None:
    if sheet.sound((*CLOTH, "width")) and cloth.width > WIDEST:
        sheet.refuse((*CLOTH, "width"), Code.TOO_WIDE, width=cloth.width, most=WIDEST)
    if sheet.sound((*CLOTH, "width"), (*CLOTH, "selvedge")) and cloth.near_selvedge + cloth.far_selvedge >= cloth.width:
        sheet.refuse(
            (*CLOTH, "selvedge"), Code.SELVEDGES_LEAVE_NOTHING, near=cloth.near_selvedge, far=cloth.far_selvedge
        )
    if cloth.repeat is None:
        return
    for name, value in (("along", cloth.repeat.along), ("across", cloth.repeat.across)):
        if value is not None and sheet.sound((*REPEAT, name)) and value < SMALLEST_REPEAT:
            sheet.refuse((*REPEAT, name), Code.REPEAT_TOO_SMALL, least=SMALLEST_REPEAT)


def _check_print(cloth: Cloth, sheet: Sheet) -> None:
    """What of the print needs a repeat, and offsets that are not within it."""
    offset: Path = (*PRINT, "mirror_offset")
    if sheet.has(*REPEAT):
        along = cloth.repeat.along if cloth.repeat and sheet.sound(REPEAT) else None
        if along is not None and sheet.sound(offset) and cloth.print.mirror_offset >= along:
            sheet.refuse(offset, Code.OFFSET_BEYOND_REPEAT, repeat=along)
        return
    if cloth.drop:
        sheet.refuse((*CLOTH, "drop"), Code.DROP_NEEDS_REPEAT)
    free = ("one_way", "top_towards")
    named = [key.name for key in keys_of(type(cloth.print)) if key.name not in free and sheet.has(*PRINT, key.name)]
    if sheet.sound(PRINT) and any(_says_something(cloth, name) for name in named):
        sheet.refuse(PRINT, Code.SYMMETRY_NEEDS_REPEAT)
    if sheet.sound((*CLOTH, "follow")) and cloth.follow is Follow.PRINT:
        sheet.refuse((*CLOTH, "follow"), Code.NO_PRINT_TO_FOLLOW)
    for number, piece in enumerate(cloth.pieces):
        if piece.first_row and sheet.sound((*CLOTH, "pieces", number, "first_row")):
            sheet.refuse((*CLOTH, "pieces", number, "first_row"), Code.ROW_NEEDS_REPEAT)


def _says_something(cloth: Cloth, name: str) -> bool:
    return getattr(cloth.print, name) not in (None, False, 0, Symmetry.NONE)


def _check_columns(cloth: Cloth, sheet: Sheet) -> None:
    """A column or a mirror line measured where there is none, or measured too far across."""
    column, offset = (*CLOTH, "first_column"), (*PRINT, "mirror_offset_across")
    if not sheet.sound(REPEAT, column, PRINT, (*CLOTH, "width")):
        return
    if cloth.print.mirror_offset_across is not None and cloth.print.side_to_side is Symmetry.NONE:
        sheet.refuse(offset, Code.OFFSET_WITHOUT_MIRROR, mirror="side_to_side")
    across = cloth.repeat.across if cloth.repeat else None
    for path, value in ((column, cloth.first_column), (offset, cloth.print.mirror_offset_across)):
        if value is not None and across is None:
            sheet.refuse(path, Code.ACROSS_NEEDS_REPEAT)
        elif value is not None and across is not None and value >= across:
            sheet.refuse(path, Code.BEYOND_REPEAT_ACROSS, repeat=across)


def _check_run(cloth: Cloth, sheet: Sheet) -> None:
    if not sheet.sound((*CLOTH, "run")):
        return
    if cloth.run is Run.UP and cloth.shrinkage_across:
        sheet.refuse((*CLOTH, "shrinkage_across"), Code.ONLY_SIDEWAYS)
    towards: Path = (*PRINT, "top_towards")
    if cloth.run is Run.SIDEWAYS and sheet.sound(towards) and cloth.print.top_towards is End.LAST:
        sheet.refuse(towards, Code.TOPS_TO_A_SELVEDGE)


def _check_piece(piece: Piece, path: Path, cloth: Cloth, sheet: Sheet) -> None:
    length = piece.length if sheet.sound((*path, "length")) else None
    if length is not None and sheet.sound((*path, "first_row")) and piece.first_row > length:
        sheet.refuse((*path, "first_row"), Code.FIRST_ROW_BEYOND_PIECE)
    for number, flaw in enumerate(piece.flaws):
        at = (*path, "flaws", number)
        ends = sheet.sound((*at, "from"), (*at, "to"))
        if ends and flaw.start >= flaw.end:
            sheet.refuse((*at, "to"), Code.FLAW_ENDS_BEFORE)
        elif ends and length is not None and flaw.end > length:
            sheet.refuse((*at, "to"), Code.FLAW_BEYOND_PIECE, length=length)
        if flaw.across is None or not sheet.sound((*at, "across")):
            continue
        if flaw.across[0] >= flaw.across[1]:
            sheet.refuse((*at, "across"), Code.FLAW_ACROSS_ORDER)
        elif sheet.sound((*CLOTH, "width")) and flaw.across[1] > cloth.width:
            sheet.refuse((*at, "across"), Code.FLAW_BEYOND_WIDTH)


def _check_wanted(job: Job, sheet: Sheet) -> None:
    for number, thing in enumerate(job.wanted):
        path: Path = ("wanted", number, "row")
        if not sheet.has(*REPEAT) and thing.motif is Motif.CENTRED and sheet.sound(path, CLOTH):
            sheet.refuse(path, Code.PLAIN_HAS_NO_MOTIF)
        at: Path = ("wanted", number, "places")
        if thing.places and not thing.ordered and sheet.sound(at):
            sheet.refuse(at, Code.PLACES_OF_LEFTOVERS)


def _check_sewing(job: Job, sheet: Sheet) -> None:
    """Pins too close, a stiffener outside the heading, a hem turned twice for which nothing is allowed."""
    if job.pins is not None and sheet.sound(("pins", "spacing")) and job.pins.spacing < NARROWEST_PINS:
        sheet.refuse(("pins", "spacing"), Code.PINS_TOO_CLOSE, least=NARROWEST_PINS)
    if not sheet.sound(("allowances",)):
        return
    headings = [allowances_of(window, job.allowances).heading for window in job.windows]
    heading = max(headings, default=job.allowances.heading)
    if job.stiffener is not None and sheet.sound(("stiffener",)) and job.stiffener >= heading:
        sheet.refuse(("stiffener",), Code.STIFFENER_BELOW_HEADING, heading=heading)
    allowed = {TurnedOver.HEM: job.allowances.hem, TurnedOver.SIDE_HEM: job.allowances.side_hem}
    for number, turned in enumerate(job.doubled if sheet.sound(("doubled",)) else ()):
        if turned not in allowed:
            sheet.refuse(("doubled", number), Code.HEADING_NOT_DOUBLED)
        elif not allowed[turned]:
            sheet.refuse(("doubled", number), Code.NOTHING_TO_DOUBLE, hem=turned.value)


def _cloth_settled(cloth: Cloth) -> Cloth:
    """What follows of the cloth: what cut lines follow, and each first row in [0, repeat), as any may be measured."""
    follow = cloth.follow or (Follow.SELVEDGE if cloth.repeat is None else Follow.PRINT)
    if cloth.repeat is None:
        return replace(cloth, follow=follow)
    along = cloth.repeat.along
    pieces = tuple(replace(piece, first_row=piece.first_row % along) for piece in cloth.pieces)
    return replace(cloth, follow=follow, pieces=pieces)


def _in_file(notices: Iterable[Problem], frame: Frame) -> list[Problem]:
    return [replace(notice, path=frame.in_file(notice.path)) for notice in notices]


def _notices(sheet: Sheet, of_cloths: list[Problem]) -> list[Problem]:
    """What was left out that matters, and what was taken instead; ``of_cloths`` is what that is of each cloth."""
    found = []
    for key in keys_of(Job):
        if key.name == "cloth":
            found += of_cloths
        elif key.told and not sheet.has(key.name):
            found.append(problem((key.name,), Code.LEFT_OUT))
        elif isinstance(key.kind, Group):
            found += _left_out((key.name,), key.kind.of, sheet)
    return found


def _left_out(path: Path, model: type, sheet: Sheet) -> list[Problem]:
    names = [key.name for key in keys_of(model) if key.told and not sheet.has(*path, key.name)]
    return [problem((*path, name), Code.LEFT_OUT) for name in names]


def _notices_of_windows(job: Job, sheet: Sheet) -> list[Problem]:
    """The same of the pieces of one cloth and the windows cut from it."""
    found = []
    if job.cloth.repeat is not None:
        for number, piece in enumerate(job.cloth.pieces):
            if piece.first_row == 0:
                found.append(problem((*CLOTH, "pieces", number, "first_row"), Code.LEFT_OUT))
    if sheet.mirror_follows:
        found.append(problem((*PRINT, "side_to_side"), Code.MIRROR_FOLLOWS))
    for number, window in enumerate(job.windows):
        path: Path = ("windows", number)
        if not sheet.has(*path, "rod") and not sheet.has(*path, "cuts_per_panel"):
            found.append(problem((*path, "cuts_per_panel"), Code.LEFT_OUT))
        elif window.rod is not None and not sheet.has(*path, "fullness"):
            found.append(problem((*path, "fullness"), Code.LEFT_OUT))
        if job.cloth.repeat is not None and not sheet.has(*path, "row"):
            found.append(problem((*path, "row"), Code.LEFT_OUT, sideways=int(job.cloth.run is Run.SIDEWAYS)))
    return found
