"""Prints made up at random in many kinds, photographed in light that is not even, with the truth told beside them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tests.jobs.cutting.tilings import Lattice, Setting, Tiling, settings
from tests.jobs.prints.photographs.pictures import Blots, slanted

KINDS = ("waves", "blots", "flat", "flat in three", "strewn", "near twins")
LIGHTS = ("even", "falls off", "corner", "lamp")


@dataclass(frozen=True)
class Truth:
    """A picture (h, w, 3) in [0, 1] and what is printed: the lattice in pixels, and how both came about."""

    picture: NDArray[np.float32]
    along: float
    across: float
    drop: float
    kind: str
    light: str
    repeats: tuple[float, float]


def random_print(
    seed: int, *, kind: str | None = None, light: str | None = None, repeats: tuple[float, float] = (3, 8)
) -> Truth:
    """The print of this number: so many repeats, from and to, are in the picture each way."""
    chance = np.random.default_rng(seed)
    kind = kind or KINDS[seed % len(KINDS)]
    light = light or LIGHTS[seed // len(KINDS) % len(LIGHTS)]
    down, right = chance.uniform(*repeats, 2)
    high = int(chance.uniform(500, 900))
    wide = int(chance.uniform(500, 900))
    drop = float(chance.choice([0.0, 0.0, 0.5, 0.5, 1 / 3, 0.25]))
    lattice = Lattice(high / down, wide / right, drop)
    steps = _steps(chance, lattice)
    y, x = np.mgrid[:high, :wide] + 0.5
    dx, dy = slanted(x - wide / 2, y - high / 2, chance.uniform(-1, 1, 2) * 1.5, (high, wide))
    turn = np.radians(chance.uniform(-3, 3))
    start = chance.uniform(0, 200, 2)
    along = dx * np.sin(turn) + dy * np.cos(turn) + start[0]
    across = dx * np.cos(turn) - dy * np.sin(turn) + start[1]
    inks = _inks(kind, lattice, steps, seed, np.stack([along, across], -1), chance)
    picture = _blurred(inks) * _light(light, x / wide, y / high, chance)[..., None]
    picture = picture + chance.normal(0, float(chance.choice([0.003, 0.012, 0.03])), picture.shape)
    picture = np.clip(picture, 0, 1).astype(np.float32)
    return Truth(picture, lattice.along, lattice.across, drop, kind, light, (down, right))


def _steps(chance: np.random.Generator, lattice: Lattice) -> list:
    """Those of a plane group that goes with this lattice, scaled to it; often none."""
    fits = [one for one in settings() if one.group in ("p2", "pm", "cm", "pmm", "cmm", "pg", "pmg", "pgg")]
    fits = [one for one in fits if one.lattice.drop == lattice.drop]
    if not fits or chance.random() < 0.4:
        return []
    one: Setting = fits[int(chance.integers(len(fits)))]
    share = lattice.along / one.lattice.along, lattice.across / one.lattice.across
    return [type(step)(step.matrix, (step.shift[0] * share[0], step.shift[1] * share[1])) for step in one.steps]


def _inks(kind, lattice, steps, seed, place, chance):
    """The cloth itself (h, w, 3), evenly lit."""
    ground = chance.uniform(0.35, 0.85, 3)
    inks = np.clip(ground + chance.uniform(-0.4, 0.4, (3, 3)), 0.05, 0.95)
    if kind in ("waves", "flat", "flat in three"):
        tone = Tiling(lattice, steps, seed).at(place)
        tone = (tone - tone.mean()) / tone.std()
        if kind == "waves":
            return np.clip(ground + (inks[0] - ground) * np.clip(tone, -1.8, 1.8)[..., None] / 1.8, 0.02, 1)
        parts = np.digitize(tone, [0.4] if kind == "flat" else [-0.6, 0.5])
        return np.stack([ground, *inks])[parts]
    if kind == "blots":
        tone = np.clip(Blots(lattice, steps, seed).at(place), -1, 1)
        return np.clip(ground + (inks[0] - ground) * tone[..., None], 0.02, 1)
    return _strewn(kind, lattice, place, ground, inks, chance)


def _strewn(kind, lattice, place, ground, inks, chance):
    """A few discs and bars in flat ink; near twins: the same motif twice in the repeat, plainly another size."""
    count = int(chance.integers(2, 6))
    spots, tones = chance.uniform(0, 1, (count, 2)), chance.integers(0, 3, count)
    shortest = min(lattice.along, lattice.across)
    reach = chance.uniform(0.08, 0.2, (count, 2)) * shortest
    if kind == "near twins":
        first = chance.uniform(0, 1, 2)
        half = np.array([(0.5, 0.0), (0.0, 0.5), (0.5, 0.5)])[int(chance.integers(3))]
        spots, tones = np.stack([first, first + half]), np.zeros(2, int)
        reach = np.array([1.0, chance.uniform(0.55, 0.75)])[:, None] * chance.uniform(0.12, 0.2, 2) * shortest
    cloth = np.broadcast_to(ground, (*place.shape[:-1], 3)).copy()
    share = lattice.cell_shares(place)
    for spot, tone, (long, wide) in zip(spots, tones, reach, strict=True):
        apart = share - spot
        apart = apart - np.round(apart)
        right = apart[..., 1] * lattice.across
        down = (apart[..., 0] + apart[..., 1] * lattice.drop) * lattice.along
        inside = 1 / (1 + np.exp(np.clip((np.hypot(down / long, right / wide) - 1) * 12, -40, 40)))
        cloth += inside[..., None] * (inks[tone] - cloth)
    return cloth


def _blurred(picture):
    for axis in (0, 1):
        picture = (picture + np.roll(picture, 1, axis) + np.roll(picture, -1, axis)) / 3
    return picture


def _light(light, x, y, chance):
    """Light (h, w), about 1: a quarter to two fifths less at one side, in one corner, or away from a lamp."""
    angle, less = chance.uniform(0, 2 * np.pi), chance.uniform(0.25, 0.4)
    beside = (np.cos(angle) * (x - 0.5) + np.sin(angle) * (y - 0.5)) / (abs(np.cos(angle)) + abs(np.sin(angle))) + 0.5
    if light == "falls off":
        return 1 - less * beside
    if light == "corner":
        return 1 - less * np.clip(beside, 0, 1) ** 3
    if light == "lamp":
        far = (x - chance.uniform(0, 1)) ** 2 + (y - chance.uniform(0, 1)) ** 2
        return (1 + far) ** -float(chance.uniform(0.5, 1.0))
    return np.ones_like(x)
