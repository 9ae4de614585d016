"""A calibration from the files of photographs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import click
import numpy as np
from PIL import Image

from calibration.height import LensPosition
from calibration.photographs.calibrating import calibrate
from calibration.photographs.detecting import Judged, judge
from calibration.photographs.pattern import NoPattern, Pattern
from calibration.photographs.taping import Taped
from calibration.problems import PhotographRefused, Problem, ReadingsRefused
from jobs.prints.photographs.picture_file import picture_file
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.shared.errors import InputAtFault
from projector.files.table_file import Stored
from projector.words.wording import sentence

MAKE, MODEL, EXIF_PART, FOCAL_MM, FOCAL_35_MM = 0x010F, 0x0110, 0x8769, 0x920A, 0xA405
"""Tags of EXIF 2.3."""
FILM_MM = 36.0


def from_photographs(
    paths: Sequence[Path], lengths_in: Sequence[float], size: tuple[int, int], lens_position: LensPosition | None
) -> Stored:
    """The calibration that photographs and a tape give. Raises InputAtFault; doubts are printed."""
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
        made = calibrate(pattern, judged, Taped(tuple(lengths_in)))
    except (PhotographRefused, ReadingsRefused) as fault:
        raise InputAtFault(*(_said(one, paths) for one in fault.problems)) from None
    for doubt in made.doubts:
        click.echo(f"Look: {_said(doubt, paths)}")
    return Stored(replace(made.table, date=date.today().isoformat(), lens_position=lens_position))


def _said(one: Problem, paths: Sequence[Path]) -> str:
    """A problem with the file it is about."""
    which = one.path[1] if len(one.path) > 1 else None
    return f"{paths[which]}: {sentence(one)}" if isinstance(which, int) else sentence(one)


def read_photograph(path: Path, pattern: Pattern, number: int) -> Judged:
    """What a file shows of the pattern. Raises PhotoRefused for what is no picture, PhotographRefused for a bad one.

    Its pixels are taken as the camera kept them, unturned: so upright and across are of one camera.
    """
    with picture_file(path) as picture:
        camera, focal_share = _camera_of(picture.getexif())
        grey = np.asarray(picture.convert("L"))
    return judge(grey, pattern, camera, focal_share, number)


def _camera_of(exif: Image.Exif) -> tuple[str, float | None]:
    """The camera and its zoom as the file tells them, and the focal length in long sides of the picture."""
    part = exif.get_ifd(EXIF_PART)
    try:
        film = float(part.get(FOCAL_35_MM) or 0)
        told = f"{exif.get(MAKE, '')} {exif.get(MODEL, '')} {float(part.get(FOCAL_MM) or 0):.2f} {film:.0f}"
    except (TypeError, ValueError, ZeroDivisionError):
        return "", None
    return told, film / FILM_MM if 10 < film < 300 else None
