"""The print as it lies, from the file of a photograph."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from calibration.laying.edges import Ends
from calibration.laying.flattening import Lit
from calibration.laying.laying import Laid, Photo, Planned, laid_from_photograph
from calibration.laying.tile import Tile
from calibration.photographs.pattern import NoPattern, Pattern
from calibration.problems import PhotographRefused
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.registration.registering import Registration
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.shared.cloths import Where
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_stored
from projector.commands.shared.planned import on_cloth
from projector.files.lit_photograph import rgb_in
from projector.light.pattern import pattern_frame
from projector.prints.face import face_of
from projector.words.measures import format_length
from projector.words.wording import sentence

Told = tuple[Registration, dict[str, Any], tuple[str, ...]]


def by_photograph(job: Where, read: Job, files: tuple[Path, Path], lattice: PrintLattice, at_left_in: float) -> Told:
    """The print as it lies; what else is told of it as JSON values, and as lines. ``files``: photograph and table.

    Raises InputAtFault for a photograph that cannot be used and for a cloth that may not be cut so.
    """
    photo, table_file = files
    stored = load_stored(table_file)
    table = on_cloth(job, stored.table, read)
    try:
        pattern = Pattern(table.width_px, table.height_px)
    except NoPattern:
        raise InputAtFault(f"{table_file}: its frame is too small for the pattern") from None
    levels = (((pattern_frame(pattern) & np.uint32(255)) / 255.0) ** table.gamma).astype(np.float32)
    face = face_of(read.cloth)
    # A sign that is drawn where no picture is kept is no print.
    tile = Tile.of_picture(face.pixels, lattice) if face.shapes is None else None
    try:
        planned = Planned(PrintFit.plain(lattice, at_left_in), tile)
        found = laid_from_photograph(Photo(rgb_in(photo), Lit(pattern, levels)), table, planned)
    except PhotoRefused as unread:
        raise InputAtFault(f"{photo}: {sentence(unread.problems[0])}") from None
    except PhotographRefused as refused:
        raise InputAtFault(*(f"{photo}: {sentence(one)}" for one in refused.problems)) from None
    if found.problems:
        raise InputAtFault(*(f"{photo}: {sentence(one)}" for one in found.problems))
    return found.registration, {"photograph": _document(found)}, tuple(_lines(found, read.unit))


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
    }


def _lines(found: Laid, unit: Unit) -> list[str]:
    told = [f"The print was seen at {len(found.compared.alike)} places of the photograph"]
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
