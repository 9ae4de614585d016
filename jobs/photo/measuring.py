"""A print measured from a picture: from pixels to repeat, drop, angle and symmetry, in pixels of the file."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from jobs.photo.basis import PLAIN, PLAIN_ADVICE, first_basis, reduced
from jobs.photo.cells import Cells, cut_out, whole_cells
from jobs.photo.following import Followed, follow
from jobs.photo.laid import Laid, lay
from jobs.photo.larger import Multiple, strongest_multiple
from jobs.photo.light import even_light
from jobs.photo.opening import Photo, Pixels
from jobs.photo.peaks import likeness
from jobs.photo.plane import Plane
from jobs.photo.refusals import NoPrint
from jobs.photo.symmetry import Found, symmetry_of

COARSE_PIXELS = 420_000
LEAST_REPEATS = 2


@dataclass(frozen=True)
class Measurement:
    """``laid`` in pixels of the file; ``plane`` from (repeats along, columns across) to places (x, y) of the file."""

    laid: Laid
    symmetry: Found
    columns: int
    repeats: int
    confidence: float
    mean: Pixels
    plane: Plane
    slanted: bool
    second: Multiple | None
    notices: tuple[str, ...]


def measure(photo: Photo) -> Measurement:
    """The print in this photo. Raises NoPrint where none, or less than two repeats of it, can be seen."""
    channels = even_light(photo.pixels)
    if float(channels.std(axis=(0, 1)).max()) < 1e-3:
        raise NoPrint(PLAIN, PLAIN_ADVICE)
    followed = follow(channels, first_basis(likeness(channels)))
    if followed is None:
        raise NoPrint(PLAIN, PLAIN_ADVICE)
    followed, second = _true_repeat(channels, followed)
    middle = np.array([channels.shape[1], channels.shape[0]]) / 2
    laid = lay(followed.plane, middle)
    if laid is None:
        raise NoPrint(
            "no direction of the print is near to upright", "turn the picture so that the selvedge is upright"
        )
    columns = 2 if laid.drop == 0.5 else 1
    mirrors = laid.drop in (0.0, 0.5)
    cells = _conventional(channels, laid, columns, mirrors)
    if len(cells.numbers) < LEAST_REPEATS:
        raise NoPrint("fewer than two whole repeats are in the picture", PLAIN_ADVICE)
    found = symmetry_of(cells.mean, _noise(cells), columns, mirrors)
    in_file = _in_file(laid, photo)
    slanted = bool(np.abs(laid.plane.matrix[2, :2]).max() > 0)
    repeats = len(whole_cells(laid.plane, channels.shape[:2]))
    sure = _confidence(cells, found, second, repeats)
    return Measurement(
        in_file, found, columns, repeats, sure, cells.mean, in_file.plane, slanted, second, photo.notices
    )


def _true_repeat(channels: Pixels, followed: Followed) -> tuple[Followed, Multiple | None]:
    """The lattice with the larger repeat wherever the motifs of a smaller one differ beyond chance."""
    for _ in range(3):
        multiple = strongest_multiple(followed.cells)
        if multiple is None or not multiple.near:
            return followed, None
        if not multiple.sure:
            return followed, multiple
        size = channels.shape[:2]
        plane = followed.plane.through(multiple.change)
        plane = plane.through(_shorter(plane, size))
        again = follow(channels, plane.steps_at(np.array([size[1] / 2, size[0] / 2])))
        if again is None:
            return followed, multiple
        followed = again
    return followed, None


def _shorter(plane: Plane, size: tuple[int, int]) -> np.ndarray:
    steps = plane.steps_at(np.array([size[1] / 2, size[0] / 2]))
    short = reduced(steps)
    return np.rint(short @ np.linalg.inv(steps))


def _conventional(channels: Pixels, laid: Laid, columns: int, mirrors: bool) -> Cells:
    """The repeats as rectangles, warp down, where the drop allows; else as the slanting cells of the lattice."""
    change = np.array([(1, 0), (-1, 2)], float) if columns == 2 else np.eye(2)
    if mirrors and columns == 1:
        change = np.array([(1, 0), (-round(laid.raw_drop), 1)], float)
    plane = laid.plane.through(change)
    numbers = whole_cells(plane, channels.shape[:2])[:400]
    grid = tuple(int(np.clip(round(length), 8, 160)) // 2 * 2 for length in (laid.along, laid.across * columns))
    return cut_out(channels, plane, numbers, (grid[0], grid[1]))


def _noise(cells: Cells) -> float:
    """Variance of a point of the mean repeat by what differs from repeat to repeat, all channels together."""
    count = len(cells.numbers)
    values = cells.values - cells.values.mean((1, 2), keepdims=True)
    return float(values.var(0, ddof=1).sum(-1).mean()) / count


def _in_file(laid: Laid, photo: Photo) -> Laid:
    """The same in pixels of the file."""
    sx, sy = photo.reduction
    scale = (sx * sy) ** 0.5
    to_file = np.array([(sx, 0, photo.origin[0]), (0, sy, photo.origin[1]), (0, 0, 1)])
    plane = Plane(to_file @ laid.plane.matrix, laid.plane.doubt)
    return replace(
        laid, along=laid.along * scale, across=laid.across * scale, along_doubt=laid.along_doubt * scale,
        across_doubt=laid.across_doubt * scale, plane=plane,
    )  # fmt: skip


def _confidence(cells: Cells, found: Found, second: Multiple | None, repeats: int) -> float:
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
