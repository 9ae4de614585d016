"""Which pattern is lit over printed cloth for a photograph: the whole of it, or its codes alone on a white field.

Under the whole pattern half of the cloth lies in dark fields, and in the lit ones the codes leave little: a print is
seen by what the room lends. Beside codes alone on a white field most of the cloth is fully lit. But then codes alone
tell where the light is, and where a print is bolder than the light, they are no longer read among its motifs.
"""

from __future__ import annotations

from collections.abc import Sequence

from projector.light.appearance import Illumination
from projector.light.colour import channels, decoded

DARKEST = 0.02
"""No cloth gives back less of the light than this (a setting: black cotton, from memory)."""
BOLDER = 1.0
"""A print is bold from so many times the light's own step from dark to lit on."""
LUMINANCE = (0.2126, 0.7152, 0.0722)
"""Shares of red, green and blue in what is bright (IEC 61966-2-1)."""


def on_white(ground: str, motifs: Sequence[str], light: Illumination | None = None) -> bool:
    """Whether codes on a white field are the better light over a cloth of these colours, ``#rrggbb`` each."""
    return boldness(ground, motifs) < BOLDER * step_of(light or Illumination())


def boldness(ground: str, motifs: Sequence[str]) -> float:
    """How many times more light the brightest colour of a cloth gives back than the darkest; 1 for plain cloth."""
    shares = [
        max(DARKEST, sum(a * b for a, b in zip(LUMINANCE, decoded(channels(one)).tolist(), strict=True)))
        for one in (ground, *motifs)
    ]
    return max(shares) / min(shares)


def step_of(light: Illumination) -> float:
    """How many times brighter a lit place of the table is than an unlit one."""
    return light.most_lx / light.unlit_lx
