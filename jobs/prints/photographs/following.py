"""The lattice followed over the whole picture: every repeat laid on the mean one, and a plane put through them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from jobs.prints.photographs.basis import vertex
from jobs.prints.photographs.cells import MOST_CELLS, Cells, cut_out, grid_of, whole_cells
from jobs.prints.photographs.opening import Array, Pixels
from jobs.prints.photographs.plane import Plane, fit_plane

_FURTHEST = 0.3
"""Of a repeat: what moves further was laid on the wrong place."""
_LEAST_ALIKE = 0.2
_OF_THE_MOST_ALIKE = 0.5
_WHOLLY_ALIKE = 0.75
"""Share of the likeness most repeats have, from which a repeat is whole and not cut by the edge of the cloth."""


@dataclass(frozen=True)
class Followed:
    """The plane, the repeats like the mean one and how far they lie from it, in pixels."""

    plane: Plane
    cells: Cells
    rms_px: float


def follow(channels: Pixels, steps: Array, start: Array | None = None) -> Followed | None:
    """Follow a lattice of these steps (2, 2) from ``start`` (2,), or the middle of the picture, outwards; None when it
    cannot be held."""
    high, wide = channels.shape[:2]
    middle = np.array([wide / 2, high / 2]) if start is None else start
    plane = Plane.straight(middle - steps.sum(0) / 2, steps)
    grid = grid_of(steps)
    reach = 1.6
    far = 0.5 * float(np.hypot(high, wide)) / float(np.hypot(*steps.T).min())
    rms = 0.0
    rounds = 0
    while True:
        numbers = whole_cells(plane, (high, wide))
        last = reach >= far
        away = np.hypot(*(numbers).T) if len(numbers) else np.zeros(0)
        chosen = _thinned(numbers[away <= reach] if not last else numbers)
        if len(chosen) >= 2:
            cells = cut_out(channels, plane, chosen, grid)
            moved, alike = displacements(cells)
            good = (np.abs(moved).max(1) < _FURTHEST) & (alike > _LEAST_ALIKE)
            if good.sum() >= 4:
                places = chosen[good] + 0.5
                seen = plane.pixels(places + moved[good])
                plane, off = fit_plane(places, seen, plane)
                rms = float(np.sqrt(np.mean(off**2)))
            elif last:
                return None
        elif last:
            return None
        if last:
            rounds += 1
            if rounds == 3:
                break
        reach *= 1.7
    numbers = _thinned(whole_cells(plane, (high, wide)))
    if len(numbers) < 2:
        return None
    cells = cut_out(channels, plane, numbers, grid)
    like = alike_ones(cells)
    return Followed(plane, Cells(numbers[like], cells.values[like]), rms) if like.sum() >= 2 else None


def alike_ones(cells: Cells) -> NDArray[np.bool_]:
    """Which repeats (n,) are like the mean one, as far as most are: not beyond the cloth, nor under a fold."""
    alike = displacements(cells)[1]
    return alike > max(_LEAST_ALIKE, _WHOLLY_ALIKE * float(np.quantile(alike, 0.9)))


def _thinned(numbers: NDArray[np.int_]) -> NDArray[np.int_]:
    """At most MOST_CELLS of them, evenly taken."""
    if len(numbers) <= MOST_CELLS:
        return numbers
    return numbers[np.linspace(0, len(numbers) - 1, MOST_CELLS).astype(int)]


def displacements(cells: Cells) -> tuple[Array, Array]:
    """How far each repeat lies from the mean of the others, (n, 2) in steps, and how alike they are, (n,).

    The print runs on, so a repeat that lies a little off is the mean repeat rolled by as much: the top of their
    circular correlation, to a share of a point by a parabola.
    """
    count, first, second = cells.values.shape[:3]
    spectra = np.fft.rfft2(cells.values, axes=(1, 2))
    spectra[:, 0, 0] = 0
    sizes = np.sqrt(_power(spectra, second))
    kept = np.ones(count, bool)
    for _ in range(2):
        held = np.maximum(1, kept.sum() - kept)[:, None, None, None]
        others = (spectra[kept].sum(0) - spectra * kept[:, None, None, None]) / held
        found = np.fft.irfft2((spectra * np.conj(others)).sum(-1), (first, second))
        flat = found.reshape(count, -1)
        top = flat.argmax(1)
        here = flat[np.arange(count), top]
        alike = here / np.maximum(sizes * np.sqrt(_power(others, second)), 1e-12)
        # What is beyond the cloth, or under a fold, takes no part in the mean that the others are laid on.
        kept = alike >= _OF_THE_MOST_ALIKE * np.quantile(alike, 0.9)
        if kept.all():
            break
    i, j = np.divmod(top, second)
    each = np.arange(count)
    di = vertex(found[each, (i - 1) % first, j], here, found[each, (i + 1) % first, j])
    dj = vertex(found[each, i, (j - 1) % second], here, found[each, i, (j + 1) % second])
    moved = np.stack([(i + di + first / 2) % first - first / 2, (j + dj + second / 2) % second - second / 2], 1)
    return moved / np.array([first, second]), np.where(kept, alike, 0.0)


def _power(spectra: NDArray[np.complexfloating], second: int) -> Array:
    """Sums of squares (n,) of the pictures that these half spectra (n, k, l // 2 + 1, c) are of, ``second`` wide."""
    weight = np.full(spectra.shape[2], 2.0)
    weight[0] = 1.0
    if second % 2 == 0:
        weight[-1] = 1.0
    points = spectra.shape[1] * second
    power: Array = (np.abs(spectra) ** 2 * weight[None, None, :, None]).sum((1, 2, 3)) / points
    return power
