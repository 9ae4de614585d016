"""Invented cloth: a ground and none to three motif colours, spread over light and dark, dull and bright."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from projector.light.appearance import Illumination
from projector.light.candidates import BLACK, WHITE
from projector.light.choosing import differences, ranked_choices
from projector.light.srgb import encoded, unlab

ROOMS_LX = (50.0, 300.0, 800.0)
"""A darkened room, a lit one, a bright workroom."""
MARGIN = 1.15
"""How many times the smallest difference of white light alone the chosen light has, at least, on a wall's average."""


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


def chosen_and_white(cloth: tuple[str, ...], room_lx: float) -> tuple[float, float, float]:
    """Smallest difference of the chosen cut line, of the best one on unlit cloth, and of white on unlit cloth."""
    light = Illumination(room_lx)
    best = ranked_choices(cloth[0], cloth[1:], light)[0].smallest
    unlit = ranked_choices(cloth[0], cloth[1:], light, fields=(BLACK,))[0].smallest
    return best, unlit, float(differences(cloth, BLACK, (WHITE,), light)[0])
