"""A print measured from a picture file: bent straight, coarsely first, once more where its repeats are fine."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np

from jobs.prints.photographs.cells import sample
from jobs.prints.photographs.measuring import COARSE_PIXELS, Measurement, measure
from jobs.prints.photographs.opening import LEAST_SIDE, Array, Photo, open_photo
from jobs.prints.photographs.plane import mapped
from jobs.prints.photographs.problems import NoPrint, PhotoCode, PhotoRefused

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
    return float(np.hypot(*found.lattice.plane.steps_at(middle).T).min())


def _middle_of(photo: Photo, crop: Box | None, share: float) -> Box:
    """The middle ``share`` of each side of the crop, in pixels of the file."""
    left, top, right, bottom = crop or (0.0, 0.0, *map(float, photo.size))
    x, y = (left + right) / 2, (top + bottom) / 2
    wide, high = (max(LEAST_SIDE * 2, side * share) / 2 for side in (right - left, bottom - top))
    return x - wide, y - high, x + wide, y + high


MOST_REACH = 6.0
"""How far about the rectangle the picture is used, in sizes of the rectangle."""


def flattened(photo: Photo, level: Array, corners: Array) -> Photo:
    """The part of the photo about the marked ``corners`` (4, 2), seen from straight above.

    ``level`` (3, 3) leads from pixels of the file to level ones. Raises PhotoRefused where hardly anything is left.
    """
    back = np.linalg.inv(level)
    marked = mapped(level, corners)
    middle, half = marked.mean(0), np.ptp(marked, axis=0) / 2
    from_file = np.linalg.inv(photo.to_file)
    high, wide = photo.pixels.shape[:2]
    square = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float)

    def inside(times: float) -> bool:
        lifted = np.column_stack([middle + square * half * times, np.ones(4)]) @ back.T
        if not (lifted[:, 2] * lifted[0, 2] > 0).all():
            return False
        seen = mapped(from_file, lifted[:, :2] / lifted[:, 2:])
        return bool((seen >= 0).all() and (seen[:, 0] <= wide).all() and (seen[:, 1] <= high).all())

    low, top = 0.0, MOST_REACH
    for _ in range(24):
        tried = (low + top) / 2
        low, top = (tried, top) if inside(tried) else (low, tried)
    if low < 0.2:
        raise PhotoRefused(PhotoCode.RECTANGLE_OUTSIDE)
    half = half * low
    near = middle + 1e-3 * half * np.array([(0, 0), (1, 0), (0, 1)])
    one = mapped(from_file, mapped(back, near))
    scale = float(np.hypot(*(one[1:] - one[0]).T).max()) / (1e-3 * float(half.max()))
    shape = np.maximum(np.rint(2 * half * scale), 1).astype(int)
    shape = np.rint(shape * min(1.0, (high * wide / float(np.prod(shape))) ** 0.5)).astype(int)
    if shape.min() < LEAST_SIDE:
        raise PhotoRefused(PhotoCode.RECTANGLE_TOO_SMALL)
    to_level = np.array(
        [(2 * half[0] / shape[0], 0, middle[0] - half[0]), (0, 2 * half[1] / shape[1], middle[1] - half[1]), (0, 0, 1)]
    )
    to_file = back @ to_level
    x, y = np.meshgrid(np.arange(shape[0]) + 0.5, np.arange(shape[1]) + 0.5)
    places = mapped(from_file @ to_file, np.stack([x, y], -1))
    return replace(photo, pixels=sample(photo.pixels, places), bent=to_file / to_file[2, 2])
