"""A print measured from a picture: from pixels to repeat, drop, angle and symmetry."""

from __future__ import annotations

import numpy as np

from jobs.model.problems import Problem
from jobs.model.records import dataclass
from jobs.prints.photographs.cells import MOST_CELLS, Cells, cut_out, whole_cells
from jobs.prints.photographs.finding import on_its_cloth, region_of, widened
from jobs.prints.photographs.following import Followed, alike_ones
from jobs.prints.photographs.lattice import Lattice, lattice_of
from jobs.prints.photographs.level import View, view_of
from jobs.prints.photographs.multiples import Reading, readings_of
from jobs.prints.photographs.opening import Array, Photo, Pixels
from jobs.prints.photographs.plane import Plane
from jobs.prints.photographs.problems import NoPrint, PhotoCode
from jobs.prints.photographs.symmetry import Found, symmetry_of

COARSE_PIXELS = 420_000
LEAST_REPEATS = 2
MOST_LAID = 400
HARDLY_SURE_SHARE = 0.1
"""Where motifs differ by no more of the print's contrast, the smaller repeat is named too."""


@dataclass(frozen=True)
class Second:
    """Another answer that is not out of the question: where every other motif differs by ``share`` of the contrast, the
    repeat is the larger one, else the smaller."""

    lattice: Lattice
    larger: bool
    share: float


@dataclass(frozen=True)
class Measurement:
    """``lattice`` in level pixels of the file; ``symmetry`` of the mean cell, ``columns`` columns wide, whose sides are
    the steps ``cell`` (2, 2) of the lattice; ``repeats`` of the picture are like the mean one.
    ``region`` is what was looked at: left, top, right, bottom in pixels of the file."""

    lattice: Lattice
    symmetry: Found
    columns: int
    cell: Array
    repeats: int
    confidence: float
    mean: Pixels
    slanted: bool
    second: Second | None
    notices: tuple[Problem, ...]
    view: View
    region: tuple[float, float, float, float]


def measure(photo: Photo, level: Array | None = None) -> Measurement:
    """The print in this photo; ``level`` (3, 3), from marked corners, leads from pixels of the file to level ones.

    Raises NoPrint where none, or less than two repeats of it, can be seen.
    """
    photo, seen = on_its_cloth(photo)
    channels = seen.channels
    view = view_of(photo.size, photo.focal_mm, level)
    chain = readings_of(channels, seen.followed)
    sound = [reading for reading in chain if reading.followed is not None]
    while True:
        chosen = sound.pop()
        assert chosen.followed is not None
        plane = chosen.plane
        if seen.wide is not None:
            plane = widened(plane, seen.wide.plane, np.array([channels.shape[1], channels.shape[0]]) / 2)
        lattice = _lattice(plane, photo, view)
        columns, cell = _rectangle(lattice)
        cells = _conventional(channels, lattice, cell, columns)
        if len(cells.numbers) >= LEAST_REPEATS:
            break
        if not sound:
            raise NoPrint(PhotoCode.FEWER_THAN_TWO)
    found = symmetry_of(cells.mean, _noise(cells), columns, lattice.drop in (0.0, 0.5))
    second = _second(chain, chosen, photo, view)
    repeats = _repeats(seen.wide or chosen.followed, lattice, channels)
    return Measurement(
        lattice=lattice,
        symmetry=found,
        columns=columns,
        cell=cell,
        repeats=repeats,
        confidence=_confidence(cells, found, second, repeats),
        mean=cells.mean,
        slanted=level is None and bool(np.abs(lattice.plane.matrix[2, :2]).max() > 0),
        second=second,
        notices=photo.notices,
        view=view,
        region=region_of(photo),
    )


def _lattice(plane: Plane, photo: Photo, view: View) -> Lattice:
    lattice = lattice_of(plane, photo.to_file, view)
    if lattice is None:
        raise NoPrint(PhotoCode.NOT_UPRIGHT)
    return lattice


def _second(chain: list[Reading], chosen: Reading, photo: Photo, view: View) -> Second | None:
    """The reading after the one chosen, or the one before where it was hardly better."""
    at = chain.index(chosen)
    if at + 1 < len(chain):
        larger = chain[at + 1]
        lattice = lattice_of(larger.plane, photo.to_file, view)
        return Second(lattice, True, larger.share) if lattice else None
    if at and chosen.share < HARDLY_SURE_SHARE:
        lattice = lattice_of(chain[at - 1].plane, photo.to_file, view)
        return Second(lattice, False, chosen.share) if lattice else None
    return None


def _rectangle(lattice: Lattice) -> tuple[int, Array]:
    """How many columns wide the cell is, and its sides (2, 2) in steps: a rectangle where the drop allows."""
    if lattice.drop == 0.5:
        return 2, np.array([(1, 0), (-round(2 * lattice.raw_drop), 2)], float)
    if lattice.drop == 0:
        return 1, np.array([(1, 0), (-round(lattice.raw_drop), 1)], float)
    return 1, np.eye(2)


def _conventional(channels: Pixels, lattice: Lattice, cell: Array, columns: int) -> Cells:
    plane = lattice.plane.through(cell)
    numbers = whole_cells(plane, channels.shape[:2])[:MOST_LAID]
    middle = np.array([channels.shape[1], channels.shape[0]]) / 2
    lengths = np.hypot(*plane.steps_at(middle).T)
    grid = tuple(int(np.clip(round(float(length)), 8, 160)) // 2 * 2 for length in lengths)
    cells = cut_out(channels, plane, numbers, (grid[0], grid[1]))
    if len(numbers) <= LEAST_REPEATS:
        return cells
    like = alike_ones(Cells(numbers, cells.values[:, ::2, ::2]))
    return Cells(numbers[like], cells.values[like])


def _repeats(followed: Followed, lattice: Lattice, channels: Pixels) -> int:
    """How many repeats in the picture are like the mean one."""
    whole = len(whole_cells(lattice.plane, channels.shape[:2]))
    seen = len(followed.cells.numbers)
    times = float(np.linalg.det(lattice.plane.matrix[:2, :2]) / np.linalg.det(followed.plane.matrix[:2, :2]))
    return max(1, round(seen / abs(times))) if seen < MOST_CELLS else whole


def _noise(cells: Cells) -> float:
    """Variance of a point of the mean repeat by what differs from repeat to repeat, all channels together."""
    count = len(cells.numbers)
    values = cells.values - cells.values.mean((1, 2), keepdims=True)
    return float(values.var(0, ddof=1).sum(-1).mean()) / count


def _confidence(cells: Cells, found: Found, second: Second | None, repeats: int) -> float:
    """From 0 to 1: how much of the repeats is alike, how many there are, and how far other answers are."""
    mean = cells.mean
    values = cells.values - cells.values.mean((1, 2), keepdims=True)
    total = float((values**2).sum(-1).mean())
    noise = _noise(cells)
    signal = max(0.0, float(((mean - mean.mean((0, 1))) ** 2).sum(-1).mean()) - noise)
    alike = min(1.0, signal / max(total, 1e-12) / 0.5)
    many = 1 - 0.5 / max(1, repeats - 1)
    clear = 0.7 if found.close else 1.0
    return round(alike * many * clear * (0.7 if second else 1.0), 3)
