"""Invented cloth: a ground and none to three motif colours, spread over light and dark, dull and bright."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from projector.light.colour import encoded, unlab

ROOMS_LX = (50.0, 300.0, 800.0)
"""A darkened room, a lit one, a bright workroom."""


def cloths(count: int, seed: int = 2005) -> Iterator[tuple[str, ...]]:
    """Cloths as (ground, motif, ...) of colours ``#rrggbb``."""
    rng = np.random.default_rng(seed)
    for _ in range(count):
        colours = [_colour(rng) for _ in range(1 + int(rng.integers(0, 4)))]
        yield tuple(colours)


def _colour(rng: np.random.Generator) -> str:
    light, chroma, hue = rng.uniform(12, 95), rng.uniform(0, 60), rng.uniform(0, 2 * np.pi)
    red, green, blue = np.rint(encoded(unlab([light, chroma * np.cos(hue), chroma * np.sin(hue)]))).astype(int)
    return f"#{red:02x}{green:02x}{blue:02x}"
