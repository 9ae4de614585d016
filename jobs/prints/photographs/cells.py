"""The repeats of a print cut out of a picture, each laid flat on the same small square."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from jobs.prints.photographs.opening import Array, Pixels
from jobs.prints.photographs.plane import Plane

MOST_CELLS = 900
FINEST = 64
_INSIDE = 0.5


@dataclass(frozen=True)
class Cells:
    """``numbers`` (n, 2): which repeat; ``values`` (n, k, l, c): its pixels, first step down, second step across."""

    numbers: NDArray[np.int_]
    values: Pixels

    @property
    def mean(self) -> Pixels:
        """The mean repeat (k, l, c)."""
        mean: Pixels = self.values.mean(0)
        return mean


def whole_cells(plane: Plane, size: tuple[int, int]) -> NDArray[np.int_]:
    """Numbers (n, 2) of the repeats that lie wholly in a picture of this (height, width), nearest its middle first."""
    high, wide = size
    corners = np.array([(0, 0), (wide, 0), (wide, high), (0, high)], float)
    reach = plane.places(corners)
    low, top = np.floor(reach.min(0)).astype(int) - 1, np.ceil(reach.max(0)).astype(int) + 1
    if np.prod((top - low).astype(float)) > 4_000_000:
        return np.zeros((0, 2), int)
    numbers = np.stack(np.meshgrid(*(np.arange(low[k], top[k]) for k in (0, 1)), indexing="ij"), -1).reshape(-1, 2)
    around = numbers[:, None, :] + np.array([(0, 0), (1, 0), (1, 1), (0, 1)], float)
    seen = plane.pixels(around)
    inside = (
        (seen >= _INSIDE).all((1, 2))
        & (seen[..., 0] <= wide - _INSIDE).all(1)
        & (seen[..., 1] <= high - _INSIDE).all(1)
    )
    kept = numbers[inside]
    far = np.hypot(*(plane.pixels(kept + 0.5) - np.array([wide / 2, high / 2])).T)
    return kept[np.argsort(far, kind="stable")]


def cut_out(channels: Pixels, plane: Plane, numbers: NDArray[np.int_], grid: tuple[int, int]) -> Cells:
    """The repeats of these numbers, each on a grid (k, l) of its two steps."""
    share = [(np.arange(n) + 0.5) / n for n in grid]
    inner = np.stack(np.meshgrid(*share, indexing="ij"), -1)
    seen = plane.pixels(numbers[:, None, None, :] + inner)
    return Cells(numbers, sample(channels, seen))


def sample(channels: Pixels, pixels: Array) -> Pixels:
    """Values (..., c) at places (..., 2), x and y with the outer corner at 0, between the four nearest pixels."""
    high, wide = channels.shape[:2]
    x = np.clip(pixels[..., 0] - 0.5, 0, wide - 1.001)
    y = np.clip(pixels[..., 1] - 0.5, 0, high - 1.001)
    left, top = x.astype(np.intp), y.astype(np.intp)
    right = (x - left).astype(np.float32)[..., None]
    down = (y - top).astype(np.float32)[..., None]
    flat = channels.reshape(-1, channels.shape[2])
    at = top * wide + left
    upper = flat[at] * (1 - right) + flat[at + 1] * right
    lower = flat[at + wide] * (1 - right) + flat[at + wide + 1] * right
    found: Pixels = upper * (1 - down) + lower * down
    return found


def grid_of(steps: Array, finest: int = FINEST) -> tuple[int, int]:
    """How finely repeats with these steps (2, 2) in pixels are cut out: even numbers, about a pixel a point."""
    first, second = (int(np.clip(round(float(np.hypot(*step))), 8, finest)) // 2 * 2 for step in steps)
    return first, second
