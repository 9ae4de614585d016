"""The print as it lies, from the file of a photograph."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from calibration.laying.edges import Ends
from calibration.laying.flattening import Lit
from calibration.laying.laying import Laid, Photo, Planned, laid_from_photograph
from calibration.laying.second import Second
from calibration.laying.tile import Tile
from calibration.photographs.pattern import NoPattern, Pattern
from calibration.problems import PhotographRefused, Problem
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.registration.registering import Registration
from calibration.table import Table
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.records import dataclass
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.shared.cloths import Where
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.json_text import dump
from projector.commands.shared.loading import load_stored
from projector.commands.shared.options import check_ending
from projector.commands.shared.pictures import write_pixels
from projector.commands.shared.planned import on_cloth
from projector.commands.shared.practice import rgb_of
from projector.files.lit_photograph import rgb_in
from projector.light.pattern import levels_of, pattern_frame
from projector.prints.face import face_of
from projector.words.measures import format_length
from projector.words.wording import sentence

Told = tuple[Registration, dict[str, Any], tuple[str, ...]]


@dataclass(frozen=True)
class Files:
    """A photograph, the table it is of, whether codes on a white field were lit and not the whole pattern; and a second
    one in white light."""

    photo: Path
    table: Path
    on_white: bool
    white: Path | None = None


def write_pattern(out: Path, table_file: Path, *, on_white: bool) -> None:
    """Write the frame that is lit for a photograph of cloth, and tell of it as JSON."""
    check_ending(out, "the pattern", ".png")
    pattern = pattern_of(load_stored(table_file).table, table_file)
    write_pixels(rgb_of(pattern_frame(pattern, on_white=on_white)), out)
    facts = ("width_px", "height_px", "side_px", "columns", "rows")
    click.echo(dump({**{name: getattr(pattern, name) for name in facts}, "on_white": on_white}))


def pattern_of(table: Table, table_file: Path) -> Pattern:
    """The pattern for photographs, as large as the frame of a table. Raises InputAtFault where it is too small."""
    try:
        return Pattern(table.width_px, table.height_px)
    except NoPattern:
        raise InputAtFault(f"{table_file}: its frame is too small for the pattern") from None


def by_photograph(job: Where, read: Job, files: Files, lattice: PrintLattice, at_left_in: float) -> Told:
    """The print as it lies; what else is told of it as JSON values, and as lines.

    Raises InputAtFault for a photograph that cannot be used and for a cloth that may not be cut so.
    """
    photo = files.photo
    table = on_cloth(job, load_stored(files.table).table, read)
    pattern = pattern_of(table, files.table)
    lit = Lit(pattern, levels_of(pattern_frame(pattern, on_white=files.on_white), table.gamma))
    face = face_of(read.cloth)
    # A sign that is drawn where no picture is kept is no print.
    tile = Tile.of_picture(face.pixels, lattice) if face.shapes is None else None
    file = photo
    try:
        shot = Photo(rgb_in(photo), lit)
        if files.white is not None:
            file = files.white
            shot = replace(shot, white=rgb_in(file))
        found = laid_from_photograph(shot, table, Planned(PrintFit.plain(lattice, at_left_in), tile))
    except PhotoRefused as unread:
        raise InputAtFault(f"{file}: {sentence(unread.problems[0])}") from None
    except PhotographRefused as refused:
        raise InputAtFault(*(_refusal(files, one, read.unit) for one in refused.problems)) from None
    if found.problems:
        raise InputAtFault(*(f"{photo}: {sentence(one, read.unit)}" for one in found.problems))
    return found.registration, {"photograph": _document(found)}, tuple(_lines(found, read.unit))


def _refusal(files: Files, found: Problem, unit: Unit) -> str:
    """The file it is about, and why."""
    return f"{files.white if found.path == ('white',) else files.photo}: {sentence(found, unit)}"


def _document(found: Laid) -> dict[str, Any]:
    ends = found.ends
    return {
        "row_open": found.row_open,
        "places": len(found.compared.alike),
        "near_selvedge_in": ends.near_in,
        "far_selvedge_in": ends.far_in,
        "left_end_in": ends.left_in,
        "right_end_in": ends.right_in,
        "uneven_in": found.fitted.uneven_in,
        "white": None if found.second is None else _second(found.second),
    }


def _second(second: Second) -> dict[str, Any]:
    """How the second photograph was brought onto the first: by how many places, their share, how far they are off."""
    return {"places": second.agreed, "share": second.share, "off_in": second.sigma_in}


def _lines(found: Laid, unit: Unit) -> list[str]:
    which = "photograph" if found.second is None else "second photograph"
    told = [f"The print was seen at {len(found.compared.alike)} places of the {which}"]
    if found.second is not None:
        told.append(f"That was brought onto the first by {found.second.agreed} places that both show")
    width = _width_in(found.ends, found.registration.fit)
    if width is not None:
        told.append(f"The cloth lies {format_length(width, unit)} wide, selvedge to selvedge")
    if found.row_open:
        told.append(
            "Which row is which is not to be seen: rows are counted from where the cloth was to lie (--at-left)"
        )
    return told


def _width_in(ends: Ends, fit: PrintFit) -> float | None:
    if ends.near_in is None or ends.far_in is None:
        return None
    return (ends.far_in - ends.near_in) * fit.stretch_across
