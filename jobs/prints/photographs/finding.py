"""The print found in a picture that it may fill or not; where it does not, the picture is cut to the cloth."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from jobs.prints.photographs.basis import first_basis, likeness
from jobs.prints.photographs.cells import MOST_CELLS, whole_cells
from jobs.prints.photographs.following import Followed, follow
from jobs.prints.photographs.light import even_light
from jobs.prints.photographs.opening import Array, Photo, Pixels
from jobs.prints.photographs.plane import Plane, mapped
from jobs.prints.photographs.problems import NoPrint, PhotoCode

MIDDLES = (1.0, 0.6, 0.4)
"""Shares of the picture's sides in which the print is looked for, one after the other."""
FILLED = 0.9
"""Share of the repeats in the picture that must be like the mean one for the cloth to be taken as filling it."""
_PLAIN = 1e-3
_GRID = 120
_CUT_OFF = 0.4
"""Of a repeat, at each side: the outermost ones may be cut by the edge of the cloth."""
_SAME_STEP = 0.12
_LEAST_LEFT = 2.2
"""Repeats that must remain each way."""


@dataclass(frozen=True)
class Print:
    """The lattice followed in ``channels`` (h, w, c), which are free of uneven light."""

    followed: Followed
    channels: Pixels
    wide: Followed | None = None
    """The lattice over all of the cloth, where the picture was cut to the sure part of it."""


def on_its_cloth(photo: Photo) -> tuple[Photo, Print]:
    """The print of the photo, and the photo cut to the cloth where that does not fill it. Raises NoPrint."""
    found = _find(photo.pixels)
    if _fills(found):
        return photo, found
    left, top, right, bottom = _cloth(found)
    if right - left < 0.97 * photo.pixels.shape[1] or bottom - top < 0.97 * photo.pixels.shape[0]:
        moved = photo.to_file @ np.array([(1, 0, left), (0, 1, top), (0, 0, 1)])
        cut = replace(photo, pixels=photo.pixels[top:bottom, left:right], bent=moved / moved[2, 2])
        try:
            plane = found.followed.plane.moved(np.array([-left, -top], float))
            return cut, replace(_find(cut.pixels), wide=replace(found.followed, plane=plane))
        except NoPrint:
            pass
    return photo, found


def widened(plane: Plane, wide: Plane, middle: Array) -> Plane:
    """The lattice of ``plane``, or a multiple of the wide one that it is, as the wide one has it over all of the cloth;
    ``plane`` itself where they are not one."""
    ratio = plane.steps_at(middle) @ np.linalg.inv(wide.steps_at(middle))
    change = np.rint(ratio)
    if np.abs(ratio - change).max() > _SAME_STEP or not np.linalg.det(change):
        return plane
    return wide.through(change)


def region_of(photo: Photo) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of the photo in pixels of the file."""
    high, wide = photo.pixels.shape[:2]
    corners = mapped(photo.to_file, np.array([(0, 0), (wide, 0), (wide, high), (0, high)], float))
    (left, top), (right, bottom) = corners.min(0), corners.max(0)
    return float(left), float(top), float(right), float(bottom)


def _find(pixels: Pixels) -> Print:
    """The print as the whole picture (h, w, 3) shows it, or as its middle does."""
    channels = even_light(pixels)
    if float(channels.std(axis=(0, 1)).max()) < _PLAIN:
        raise NoPrint(PhotoCode.NO_PRINT_SEEN)
    high, wide = channels.shape[:2]
    refused, best = NoPrint(PhotoCode.NO_PRINT_SEEN), None
    for share in MIDDLES:
        y, x = (round(side * (1 - share) / 2) for side in (high, wide))
        part = channels if share == 1 else even_light(pixels[y : high - y, x : wide - x])
        try:
            steps = first_basis(likeness(part))
        except NoPrint as none:
            refused = none if share == 1 else refused
            continue
        followed = follow(channels, steps)
        if followed is None:
            continue
        found = Print(followed, channels)
        if _fills(found):
            return found
        if best is None or _area(followed) > _area(best.followed):
            best = found
    if best is None:
        raise refused
    return best


def _cloth(found: Print) -> tuple[int, int, int, int]:
    """The largest upright rectangle of repeats like the mean one, less those that its edge may cut."""
    high, wide = found.channels.shape[:2]
    step = max(high, wide) / _GRID
    x, y = np.meshgrid((np.arange(int(wide / step)) + 0.5) * step, (np.arange(int(high / step)) + 0.5) * step)
    plane, known = found.followed.plane, found.followed.cells.numbers
    numbers = np.floor(plane.places(np.stack([x, y], -1))).astype(int)
    low = np.minimum(known.min(0), numbers.min((0, 1)))
    span = int(max(known[:, 1].max(), numbers[..., 1].max()) - low[1]) + 1
    cloth = np.isin((numbers - low) @ (span, 1), (known - low) @ (span, 1))
    left, top, right, bottom = (edge * step for edge in largest_rectangle(cloth))
    repeat = np.abs(plane.steps_at(np.array([(left + right) / 2, (top + bottom) / 2]))).sum(0)
    off_x = max(0.0, min(_CUT_OFF * repeat[0], (right - left - _LEAST_LEFT * repeat[0]) / 2))
    off_y = max(0.0, min(_CUT_OFF * repeat[1], (bottom - top - _LEAST_LEFT * repeat[1]) / 2))
    return int(left + off_x), int(top + off_y), int(right - off_x), int(bottom - off_y)


def _fills(found: Print) -> bool:
    whole = len(whole_cells(found.followed.plane, found.channels.shape[:2]))
    return len(found.followed.cells.numbers) >= FILLED * min(whole, MOST_CELLS)


def _area(followed: Followed) -> float:
    return abs(float(np.linalg.det(followed.plane.matrix[:2, :2]))) * len(followed.cells.numbers)


def largest_rectangle(mask: NDArray[np.bool_]) -> tuple[int, int, int, int]:
    """Left, top, right, bottom (the last two past the end) of the largest rectangle of true entries; 0 all for none.

    Row by row, with the heights of the columns of true entries above it.
    """
    best, most = (0, 0, 0, 0), 0
    heights = np.zeros(mask.shape[1], int)
    for foot, row in enumerate(mask):
        heights = np.where(row, heights + 1, 0)
        waiting: list[tuple[int, int]] = []
        for at, height in enumerate([*heights.tolist(), 0]):
            begin = at
            while waiting and waiting[-1][1] >= height:
                begin, tall = waiting.pop()
                if tall * (at - begin) > most:
                    most, best = tall * (at - begin), (begin, foot + 1 - tall, at, foot + 1)
            waiting.append((begin, height))
    return best
