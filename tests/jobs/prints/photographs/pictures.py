"""Photographs of prints made up with the symmetry of a plane group, with all that a camera does to them."""

from __future__ import annotations

import numpy as np

from tests.jobs.cutting.tilings import Setting, Tiling

SIZE = (560, 680)


class Blots(Tiling):
    """The other kind of motif: hard-edged blots strewn over the cell, in place of waves."""

    def at(self, place):
        chance = np.random.default_rng(int(self._size[0] * 1e6) % 2**32)
        lattice = self.lattice
        total = np.zeros(place.shape[:-1])
        spots = chance.uniform(0, 1, (7, 2))
        width = chance.uniform(0.06, 0.16, 7) * min(lattice.along, lattice.across)
        tone = chance.uniform(0.4, 1.0, 7) * chance.choice([-1, 1], 7)
        for one in self.operations:
            moved = place @ np.reshape(one.matrix, (2, 2)).T + np.array(one.shift)
            share = lattice.cell_shares(moved)
            for spot, size, strength in zip(spots, width, tone, strict=True):
                apart = share - spot
                apart = apart - np.round(apart)
                across = apart[..., 1] * lattice.across
                along = apart[..., 0] * lattice.along + apart[..., 1] * lattice.across * lattice.drop * (
                    lattice.along / lattice.across
                )
                total += strength / (1 + np.exp((np.hypot(along, across) - size) / (0.06 * size)))
        return total


def slanted(dx, dy, tilt_deg, size, focal_mm=27.0):
    """Where on the cloth the rays of a camera meet it that is tilted by so many degrees, right and down; at the middle
    of the picture the scale square to the tilt is 1."""
    focal = focal_mm / 43.2666 * np.hypot(*size)
    a, b = np.radians(tilt_deg)
    right = np.array([(np.cos(a), 0, np.sin(a)), (0, 1, 0), (-np.sin(a), 0, np.cos(a))])
    down = np.array([(1, 0, 0), (0, np.cos(b), np.sin(b)), (0, -np.sin(b), np.cos(b))])
    turned = down @ right
    rays = np.stack([dx, dy, np.full_like(dx, focal)], -1) @ turned.T
    return rays[..., 0] / rays[..., 2] * focal * turned[2, 2], rays[..., 1] / rays[..., 2] * focal * turned[2, 2]


def photograph(setting: Setting, seed: int, *, motif=Tiling, repeats=4.3, turn_deg=None, slant=None, noise=0.04,
               other=0.0, size=SIZE):  # fmt: skip
    """A picture (h, w, 3) in [0, 1], and its pixels an inch: ``repeats`` along are seen in its height.

    ``slant``: degrees by which the camera is tilted at most, each way.
    ``other``: by how much every other motif along is fainter, so that the true repeat is twice as long.
    """
    chance = np.random.default_rng(seed)
    high, wide = size
    lattice = setting.lattice
    per_inch = min(high / (repeats * lattice.along), wide / (repeats * lattice.across * (2 if lattice.drop else 1)))
    per_inch = max(per_inch, min(high, wide) / (9 * min(lattice.along, lattice.across)))
    y, x = np.mgrid[:high, :wide] + 0.5
    dx, dy = x - wide / 2, y - high / 2
    dx, dy = slanted(dx, dy, chance.uniform(-1, 1, 2) * (1.5 if slant is None else slant), size)
    turn = np.radians(chance.uniform(-3, 3) if turn_deg is None else turn_deg)
    # Counter-clockwise as seen: the print's downward axis points to (sin, cos) of the picture.
    along = dx * np.sin(turn) + dy * np.cos(turn)
    across = dx * np.cos(turn) - dy * np.sin(turn)
    tiling = motif(lattice, list(setting.steps), seed)
    start = chance.uniform(0, 10, 2)
    place = np.stack([along / per_inch + start[0], across / per_inch + start[1]], -1)
    tone = tiling.at(place)
    tone = (tone - tone.mean()) / tone.std()
    if other:
        row = np.floor(
            (place[..., 0] - lattice.drop * lattice.along * np.floor(place[..., 1] / lattice.across)) / lattice.along
        )
        tone = tone * np.where(row % 2 == 0, 1.0, 1 - other)
    ground, ink = chance.uniform(0.45, 0.7, 3), chance.uniform(-0.16, 0.16, 3)
    ink[0] += np.sign(ink[0]) * 0.05
    picture = np.clip(ground + ink * np.clip(tone, -1.8, 1.8)[..., None], 0.02, 1)
    for axis in (0, 1):
        picture = (picture + np.roll(picture, 1, axis) + np.roll(picture, -1, axis)) / 3
    angle = chance.uniform(0, 2 * np.pi)
    light = 1 + 0.25 * (np.cos(angle) * (x / wide - 0.5) * 2 + np.sin(angle) * (y / high - 0.5) * 2)
    light -= 0.15 * ((x / wide - 0.4) ** 2 + (y / high - 0.6) ** 2)
    picture = picture * light[..., None] * 0.8 + chance.normal(0, noise, picture.shape)
    return np.clip(picture, 0, 1).astype(np.float32), per_inch
