"""Pictures laid out in inches: grids of places, maps worked out on a coarse grid, means about every place."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

EVERY = 8
"""Maps of cloth and light bend little: they are worked out at every so many points, and between these in lines."""
COARSER, SLOW_COARSER = 4, 8
"""Means over windows, and what changes slowly, are taken of pictures so many times coarser."""


def on_grid(map_of: Callable[[Array], Array], low: Array, per_in: float, shape: tuple[int, int]) -> Picture:
    """What a map (N, 2) -> (N, M) of places gives at ``low + (j, i) / per_in``: (rows, columns, M)."""
    rows, by_row = _between(shape[0])
    columns, by_column = _between(shape[1])
    nodes = np.stack(np.meshgrid(low[0] + columns / per_in, low[1] + rows / per_in), axis=-1)
    values = map_of(nodes.reshape(-1, 2)).reshape(len(rows), len(columns), -1)
    layers = [by_row @ values[..., layer].astype(np.float32) @ by_column.T for layer in range(values.shape[2])]
    return np.stack(layers, axis=-1)


def _between(count: int) -> tuple[Array, Picture]:
    """Nodes of a line of points, and the shares (points, nodes) that each point has of them."""
    nodes = EVERY * np.arange(int(np.ceil(max(count - 1, 1) / EVERY)) + 1, dtype=np.float64)
    at = np.arange(count) / EVERY
    left = np.minimum(at.astype(int), len(nodes) - 2)
    shares = np.zeros((count, len(nodes)), np.float32)
    shares[np.arange(count), left] = 1 - (at - left)
    shares[np.arange(count), left + 1] = at - left
    return nodes, shares


def sampled(picture: Picture, at: Picture, beyond: float = 0.0) -> Picture:
    """A picture at places (rows, columns, 2), x and y in its points; ``beyond`` outside it."""
    import cv2

    return np.asarray(cv2.remap(picture, at[..., 0], at[..., 1], cv2.INTER_LINEAR, borderValue=beyond), np.float32)


def blurred(picture: Picture, sigma: float) -> Picture:
    """A bell's mean about every point, nothing beyond the picture."""
    import cv2

    return np.asarray(cv2.GaussianBlur(picture, (0, 0), sigma, borderType=cv2.BORDER_CONSTANT), np.float32)


def slow_level(picture: Picture, trust: Picture, sigma: float) -> Picture:
    """What changes slowly in a picture: its mean, weighed by trust, over a bell of ``sigma`` points about every one."""
    import cv2

    small = (max(2, round(trust.shape[1] / SLOW_COARSER)), max(2, round(trust.shape[0] / SLOW_COARSER)))
    held = [cv2.resize(one, small, interpolation=cv2.INTER_AREA) for one in (picture * trust, trust)]
    slow = [cv2.GaussianBlur(one, (0, 0), sigma / SLOW_COARSER) for one in held]
    return np.asarray(cv2.resize(slow[0] / np.maximum(slow[1], 1e-4), trust.shape[::-1]), np.float32)


def window_sums(picture: Picture, sigma: float) -> Picture:
    """The same on a grid ``COARSER`` times as coarse: point k stands for the middle of points 4 k to 4 k + 3."""
    import cv2

    rows, columns = (-(-n // COARSER) * COARSER for n in picture.shape)
    padded = np.zeros((rows, columns), np.float32)
    padded[: picture.shape[0], : picture.shape[1]] = picture
    small = cv2.resize(padded, (columns // COARSER, rows // COARSER), interpolation=cv2.INTER_AREA)
    return blurred(np.asarray(small, np.float32), sigma / COARSER)


def spread_out(coarse: Picture, shape: tuple[int, int]) -> Picture:
    """A coarse picture of ``window_sums`` at every point of the fine one."""
    import cv2

    rows, columns = (n * COARSER for n in coarse.shape)
    fine = cv2.resize(coarse, (columns, rows), interpolation=cv2.INTER_LINEAR)
    return np.asarray(fine[: shape[0], : shape[1]], np.float32)


def slope(picture: Picture, axis: int, per_in: float) -> Picture:
    """How much a picture rises in an inch along an axis."""
    import cv2

    return np.asarray(cv2.Sobel(picture, cv2.CV_32F, axis, 1 - axis, scale=per_in / 8), np.float32)
