"""The mean repeat as a picture: freed of light, noise and slant, the point that rows are counted from in its middle."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.prints.photographs.cells import sample
from jobs.prints.photographs.lattice import Lattice
from jobs.prints.photographs.light import light_of
from jobs.prints.photographs.opening import Array, Photo
from jobs.prints.photographs.plane import mapped

LONGEST_SIDE = 600
MOST_REPEATS = 40
_LEAST_ALIKE = 0.7


def mean_tile(photo: Photo, lattice: Lattice, origin: Array) -> NDArray[np.uint8]:
    """Pixels (h, w, 3), sRGB, one repeat high and one column wide, upright and to scale; ``origin`` (2,) in repeats and
    columns. Repeats that are unlike the middling one, as under a fold or beyond the cloth, are left out."""
    even = photo.pixels / light_of(photo.pixels)[..., None]
    to_photo = np.linalg.inv(photo.to_file) @ lattice.in_file
    high, wide = even.shape[:2]
    there = mapped(np.linalg.inv(to_photo), np.array([(0, 0), (wide, 0), (wide, high), (0, high)], float)) - origin
    low, top = np.floor(there.min(0)).astype(int), np.ceil(there.max(0)).astype(int)
    numbers = np.stack(np.meshgrid(*(np.arange(low[k], top[k] + 1) for k in (0, 1)), indexing="ij"), -1).reshape(-1, 2)
    corners = _places(np.array([-0.5, 0.5]), np.array([-0.5, 0.5]), lattice.raw_drop)
    seen = mapped(to_photo, origin + numbers[:, None, None, :] + corners)
    inside = ((seen >= 0) & (seen <= (wide, high))).all((1, 2, 3))
    chosen = numbers[inside] if inside.any() else numbers[np.argsort(_outside(seen, wide, high))[:4]]
    middle = mapped(np.linalg.inv(to_photo), np.array([wide / 2, high / 2])) - origin
    chosen = chosen[np.argsort(np.hypot(*(chosen - middle).T), kind="stable")][:MOST_REPEATS]
    one = mapped(to_photo, origin + chosen[0] + np.array([(-0.5, 0), (0.5, 0)], float))
    rows = float(np.clip(np.hypot(*(one[1] - one[0])), 16, LONGEST_SIDE))
    rows = min(rows, LONGEST_SIDE * lattice.along / max(lattice.along, lattice.across))
    shape = max(8, round(rows)), max(8, round(rows * lattice.across / lattice.along))
    share = [(np.arange(n) + 0.5) / n - 0.5 for n in shape]
    inner = origin + _places(share[0], share[1], lattice.raw_drop)
    cells = np.stack([sample(even, mapped(to_photo, inner + number)) for number in chosen])
    if len(cells) > 2:
        usual = np.median(cells[:, ::4, ::4], 0)
        usual = usual - usual.mean((0, 1))
        rest = cells[:, ::4, ::4] - cells[:, ::4, ::4].mean((1, 2), keepdims=True)
        alike = (rest * usual).sum((1, 2, 3)) / np.sqrt((rest**2).sum((1, 2, 3)) * (usual**2).sum() + 1e-12)
        cells = cells[alike >= _LEAST_ALIKE * alike.max()]
    pixels: NDArray[np.uint8] = (np.clip(cells.mean(0), 0, 1) * 255 + 0.5).astype(np.uint8)
    return pixels


def _places(down: Array, right: Array, drop: float) -> Array:
    """Places (k, l, 2) of the lattice at shares of the repeat down and of the column to the right, square to it."""
    y, x = np.meshgrid(down, right, indexing="ij")
    return np.stack([y - drop * x, x], -1)


def _outside(seen: Array, wide: int, high: int) -> Array:
    beyond = np.maximum(np.maximum(-seen, seen - (wide, high)), 0)
    far: Array = beyond.max((1, 2, 3))
    return far
