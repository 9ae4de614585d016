"""A photograph of the lit pattern from its file: what it shows, and which camera it says it is of."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from calibration.photographs.detecting import Judged, judge
from calibration.photographs.pattern import Pattern
from calibration.photographs.straightening import Grey, Seen
from jobs.prints.photographs.picture_file import picture_file

MAKE, MODEL, EXIF_PART, FOCAL_MM, FOCAL_35_MM = 0x010F, 0x0110, 0x8769, 0x920A, 0xA405
"""Tags of EXIF 2.3."""
FILM_MM = 36.0


def read_photograph(path: Path, pattern: Pattern, number: int) -> Judged:
    """What a file shows of the pattern. Raises PhotoRefused for what is no picture, PhotographRefused for a bad one.

    Its pixels are taken as the camera kept them, unturned: so upright and across are of one camera.
    """
    return _read(path, pattern, number)[1]


def seen_in(path: Path, pattern: Pattern) -> Seen:
    """The same with the photograph itself, for what else is to be seen in it."""
    grey, judged = _read(path, pattern, 0)
    return Seen(grey, judged.sighting)


def rgb_in(path: Path) -> NDArray[np.uint8]:
    """The pixels (height, width, 3) of a photograph, as the camera kept them, for the print that it shows.

    Raises PhotoRefused for what is no picture.
    """
    with picture_file(path) as picture:
        return np.asarray(picture.convert("RGB"))


def _read(path: Path, pattern: Pattern, number: int) -> tuple[Grey, Judged]:
    with picture_file(path) as picture:
        camera, focal_share = _camera_of(picture.getexif())
        grey = np.asarray(picture.convert("L"))
    return grey, judge(grey, pattern, camera, focal_share, number)


def _camera_of(exif: Image.Exif) -> tuple[str, float | None]:
    """The camera and its zoom as the file tells them, and the focal length in long sides of the picture."""
    part = exif.get_ifd(EXIF_PART)
    try:
        film = float(part.get(FOCAL_35_MM) or 0)
        told = f"{exif.get(MAKE, '')} {exif.get(MODEL, '')} {float(part.get(FOCAL_MM) or 0):.2f} {film:.0f}"
    except (TypeError, ValueError, ZeroDivisionError):
        return "", None
    return told, film / FILM_MM if 10 < film < 300 else None
