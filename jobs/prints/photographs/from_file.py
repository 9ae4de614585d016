"""A print measured from a picture file: coarsely first, and once more with more pixels where its repeats are fine."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from jobs.prints.photographs.flattening import flattened
from jobs.prints.photographs.measuring import COARSE_PIXELS, Measurement, measure
from jobs.prints.photographs.opening import LEAST_SIDE, Photo, open_photo
from jobs.prints.photographs.peaks import Array
from jobs.prints.photographs.refusals import NoPrint, PhotoRefused

FINE_STEP = 14.0
"""Pixels of the coarse picture: a repeat shorter than this is looked at again, ..."""
WANTED_STEP = 26.0
"""... with so many."""

Box = tuple[float, float, float, float]


def measure_file(
    path: Path, *, crop: Box | None = None, level: Array | None = None, corners: Array | None = None
) -> Measurement:
    """The print in this file; ``crop`` is left, top, right, bottom in its pixels.

    ``corners`` (4, 2) are those of a rectangle, ``level`` (3, 3) the map from pixels to level ones they give.
    Raises PhotoRefused, NoPrint.
    """

    def opened(box: Box | None) -> Photo:
        photo = open_photo(path, COARSE_PIXELS, crop=box)
        return photo if level is None or corners is None else flattened(photo, level, corners)

    photo = opened(crop)
    found, refused = None, None
    try:
        found = measure(photo, level)
    except NoPrint as none:
        refused = none
    step = _shortest(found, photo) if found else 0.0
    reduction = max(photo.reduction)
    if reduction > 1 and step < FINE_STEP:
        wanted = [max(1.0, reduction * step / WANTED_STEP)] if found else [max(1.0, reduction / 3), 1.0]
        for finer in dict.fromkeys(wanted):
            try:
                return measure(opened(_middle_of(photo, crop, finer / reduction)), level)
            except PhotoRefused:
                continue
    if found is None:
        assert refused is not None
        raise refused
    return found


def _shortest(found: Measurement, photo: Photo) -> float:
    middle = np.array([photo.pixels.shape[1], photo.pixels.shape[0]]) / 2
    return float(np.hypot(*found.laid.plane.steps_at(middle).T).min())


def _middle_of(photo: Photo, crop: Box | None, share: float) -> Box:
    """The middle ``share`` of each side of the crop, in pixels of the file."""
    left, top, right, bottom = crop or (0.0, 0.0, *map(float, photo.size))
    x, y = (left + right) / 2, (top + bottom) / 2
    wide, high = (max(LEAST_SIDE * 2, side * share) / 2 for side in (right - left, bottom - top))
    return x - wide, y - high, x + wide, y + high
