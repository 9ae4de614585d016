"""A calibration from the files of photographs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import click

from calibration.height import LensPosition
from calibration.photographs.calibrating import calibrate
from calibration.photographs.pattern import NoPattern, Pattern
from calibration.photographs.residuals import residuals_of
from calibration.photographs.taping import Taped
from calibration.problems import PhotographRefused, Problem, ReadingsRefused
from calibration.table import Table
from jobs.model.choices import Unit
from jobs.model.records import dataclass
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.pictures import write_drawing
from projector.files.lit_photograph import read_photograph
from projector.files.table_file import Stored
from projector.papers.residual_picture import residual_picture
from projector.words.wording import sentence


@dataclass(frozen=True)
class Readings:
    """What the tape said from cross to cross, in inches, and the unit it is spoken of in."""

    lengths_in: tuple[float, ...]
    unit: Unit


def from_photographs(
    paths: Sequence[Path],
    read: Readings,
    size: tuple[int, int],
    before: Table | None,
    lens_position: LensPosition | None,
    picture: Path | None = None,
) -> Stored:
    """The calibration that photographs and a tape give. Raises InputAtFault; doubts are printed.

    ``before`` is the one that it takes the place of. What is left over is drawn into ``picture``.
    """
    try:
        pattern = Pattern(*size)
    except NoPattern:
        raise click.UsageError(f"a frame of {size[0]} x {size[1]} pixels is too small for the pattern") from None
    judged, refused = [], []
    for number, path in enumerate(paths):
        try:
            judged.append(read_photograph(path, pattern, number))
        except PhotographRefused as fault:
            refused += [f"{path}: {sentence(one)}" for one in fault.problems]
        except PhotoRefused as unread:
            refused += [f"{path}: {sentence(one)}" for one in unread.problems]
    if refused:
        raise InputAtFault(*refused)
    try:
        made = calibrate(pattern, judged, Taped(read.lengths_in), before, lens_position)
    except (PhotographRefused, ReadingsRefused) as fault:
        raise InputAtFault(*(_said(one, paths, read.unit) for one in fault.problems)) from None
    if picture is not None:
        names = [paths[at].name for at in made.photographs]
        title = f"What is left over of {len(names)} photographs"
        write_drawing(residual_picture(residuals_of(made.bundled), names, title), picture)
    for doubt in made.doubts:
        click.echo(f"Look: {_said(doubt, paths, read.unit)}")
    return Stored(replace(made.table, date=date.today().isoformat()))


def _said(one: Problem, paths: Sequence[Path], unit: Unit) -> str:
    """A problem with the file it is about."""
    which = one.path[1] if len(one.path) > 1 else None
    said = sentence(one, unit)
    return f"{paths[which]}: {said}" if isinstance(which, int) else said
