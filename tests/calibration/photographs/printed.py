"""Printed cloths made up at random, to lie under the lit pattern."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from projector.demo.brightness import screen_of
from projector.demo.cloth import LaidCloth
from projector.prints.face import Face
from tests.jobs.cutting.tilings import Lattice, Tiling
from tests.jobs.prints.photographs.pictures import Blots

KINDS = ("waves", "blots", "two inks", "stripes")
PER_IN = 24
LEAST_CONTRAST, MOST_CONTRAST = 1.5, 4.0
"""How many times as much light the ground of a print gives back as its darkest ink; black on white is some 10."""


def printed_cloth(rng: np.random.Generator, table_in: tuple[float, float], kind: str | None = None) -> LaidCloth:
    """Cloth over the table and past its ends, bare wood beside its selvedges, laid a little askew.

    Repeats of 3 to 27 in, half of them half-drop, of ``kind`` or any; ink may be darker or lighter than the ground.
    """
    kind = kind or KINDS[int(rng.integers(len(KINDS)))]
    along, across = rng.uniform(3, 25), rng.uniform(3, 27)
    drop = along / 2 if rng.random() < 0.5 else 0.0
    pixels = _pixels(kind, along, across, drop, rng)
    width = float(rng.uniform(min(48, table_in[1] - 2), min(60, table_in[1])))
    return LaidCloth(
        length=table_in[0] + 20,
        width=width,
        along=along,
        across=across,
        at_left=10,
        shift=(0.0, float(rng.uniform(0, table_in[1] - width))),
        turn_deg=float(rng.uniform(-0.5, 0.5)),
        skew=float(rng.uniform(-0.8, 0.8)),
        bow=float(rng.uniform(-0.8, 0.8)),
        stretch_along=float(rng.uniform(0.99, 1.01)),
        face=Face(pixels, along, across, drop, float(rng.uniform(2, 8)), "#808080", None),
    )


def _pixels(kind: str, along: float, across: float, drop: float, rng: np.random.Generator) -> NDArray[np.uint8]:
    """One repeat (lines, columns, 3), its ground and inks apart by a contrast between the least and the most."""
    down, right = (np.arange(round(PER_IN * size)) / PER_IN for size in (along, across))
    place = np.stack(np.meshgrid(down, right, indexing="ij"), axis=-1)
    lattice, seed = Lattice(along, across, drop / along), int(rng.integers(1 << 30))
    if kind == "stripes":
        tone = np.sin(2 * np.pi * place[..., 1] / across * rng.integers(1, 5))
    else:
        tone = (Blots if kind == "blots" else Tiling)(lattice, [], seed).at(place)
    tone = (tone - tone.mean()) / tone.std()
    inked = np.digitize(tone, (-0.5, 0.6)) / 2 if kind in ("two inks", "stripes") else np.clip(0.5 + tone / 3, 0, 1)
    contrast = np.exp(rng.uniform(np.log(LEAST_CONTRAST), np.log(MOST_CONTRAST)))
    ground = rng.uniform(0.35, 0.85, 3)
    hue = np.clip(rng.normal(1, 0.25, 3), 0.5, 1.5)
    ink = ground / contrast * hue / hue.mean()
    if rng.random() < 0.5:
        ground, ink = ink, ground
    light = ground + (ink - ground) * inked[..., None]
    return screen_of(light.astype(np.float32))
