"""A photograph bent straight by four marked corners of a rectangle, before the print is looked for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from jobs.prints.photographs.cells import sample
from jobs.prints.photographs.level import inverse, mapped
from jobs.prints.photographs.opening import LEAST_SIDE, Photo
from jobs.prints.photographs.peaks import Array
from jobs.prints.photographs.refusals import PhotoRefused

MOST_REACH = 6.0
"""How far about the rectangle the picture is used, in sizes of the rectangle."""


def flattened(photo: Photo, level: Array, corners: Array) -> Photo:
    """The part of the photo about the marked ``corners`` (4, 2), seen from straight above.

    ``level`` (3, 3) leads from pixels of the file to level ones. Raises PhotoRefused where hardly anything is left.
    """
    back = inverse(level)
    marked = mapped(level, corners)
    middle, half = marked.mean(0), np.ptp(marked, axis=0) / 2
    from_file = inverse(photo.to_file)
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
        raise PhotoRefused("the marked rectangle lies outside the picture", "give its four corners in pixels")
    half = half * low
    near = middle + 1e-3 * half * np.array([(0, 0), (1, 0), (0, 1)])
    one = mapped(from_file, mapped(back, near))
    scale = float(np.hypot(*(one[1:] - one[0]).T).max()) / (1e-3 * float(half.max()))
    shape = np.maximum(np.rint(2 * half * scale), 1).astype(int)
    shape = np.rint(shape * min(1.0, (high * wide / float(np.prod(shape))) ** 0.5)).astype(int)
    if shape.min() < LEAST_SIDE:
        raise PhotoRefused("the marked rectangle is too small in the picture", "mark a larger one")
    to_level = np.array(
        [(2 * half[0] / shape[0], 0, middle[0] - half[0]), (0, 2 * half[1] / shape[1], middle[1] - half[1]), (0, 0, 1)]
    )
    to_file = back @ to_level
    x, y = np.meshgrid(np.arange(shape[0]) + 0.5, np.arange(shape[1]) + 0.5)
    places = mapped(from_file @ to_file, np.stack([x, y], -1))
    return replace(photo, pixels=sample(photo.pixels, places), bent=to_file / to_file[2, 2])
