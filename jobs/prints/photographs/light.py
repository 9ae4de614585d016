"""Uneven light taken out of a picture: a smooth surface fitted to its brightness."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.prints.photographs.opening import Pixels

ORDER = 4
"""Of the surface: a lamp beside the cloth is followed, a repeat seen twice in the picture is not."""
_DARKEST = 0.02
_BLOCKS = 96


def even_light(pixels: Pixels) -> Pixels:
    """The picture (h, w, 3) divided by its light, as three opponent channels (h, w, 3) of mean 0: brightness, and two
    colour differences."""
    return _opponent(pixels / light_of(pixels)[..., None])


def light_of(pixels: Pixels) -> Pixels:
    """How bright the light is at each pixel (h, w) of a picture (h, w, 3), 1 in the mean."""
    high, wide = pixels.shape[:2]
    step = max(1, min(high, wide) // _BLOCKS)
    bright = np.log(np.maximum(pixels.mean(2), _DARKEST))
    small = bright[: high // step * step, : wide // step * step]
    small = small.reshape(high // step, step, wide // step, step).mean((1, 3))
    y = (np.arange(small.shape[0]) + 0.5) * step / high * 2 - 1
    x = (np.arange(small.shape[1]) + 0.5) * step / wide * 2 - 1
    terms = [(i, j) for i in range(ORDER + 1) for j in range(ORDER + 1 - i)]
    table = np.stack([np.outer(y**i, x**j).ravel() for i, j in terms], 1)
    found = np.linalg.lstsq(table, small.ravel(), rcond=None)[0]
    yy, xx = (np.arange(high) + 0.5) / high * 2 - 1, (np.arange(wide) + 0.5) / wide * 2 - 1
    weights = np.zeros((ORDER + 1, ORDER + 1))
    for (i, j), value in zip(terms, found, strict=True):
        weights[i, j] = value
    surface = np.vander(yy, ORDER + 1, increasing=True) @ weights @ np.vander(xx, ORDER + 1, increasing=True).T
    light: Pixels = np.exp(surface - surface.mean()).astype(np.float32)
    return light


def _opponent(pixels: Pixels) -> Pixels:
    red, green, blue = pixels[..., 0], pixels[..., 1], pixels[..., 2]
    channels: NDArray[np.float32] = np.stack([(red + green + blue) / 3, red - green, (red + green) / 2 - blue], -1)
    return channels - channels.mean((0, 1))
