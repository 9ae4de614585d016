"""Whether the true repeat is a multiple of the one followed, because every other motif differs a little."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np

from jobs.photo.basis import reduced
from jobs.photo.cells import Cells
from jobs.photo.peaks import Array

ORDERS = (2, 3, 4)
SURE = 2.0
"""A difference that comes again must be this many times what chance gives."""
NEAR = 1.35
"""From here on the larger repeat is named as the second answer."""


@dataclass(frozen=True)
class Multiple:
    """The difference that comes again every ``order`` repeats: its ``strength`` (1 is chance) and the whole-number
    steps ``change`` (2, 2) of the larger lattice, each row in old steps."""

    order: int
    strength: float
    change: Array


def strongest_multiple(cells: Cells) -> Multiple | None:
    """The multiple of the repeat with the strongest evidence, None where there are too few repeats to tell.

    The differences of the repeats from their mean are turned into waves over the repeats; a wave of a whole period of
    2, 3 or 4 repeats is compared with waves of no such period, which only noise feeds.
    """
    numbers, count = cells.numbers.astype(float), len(cells.numbers)
    if count < 6:
        return None
    values = cells.values - cells.values.mean((1, 2), keepdims=True)
    rest = (values - values.mean(0)).reshape(count, -1)
    waves, orders = _waves()
    strength = _power(numbers, rest, waves)
    chance = _power(numbers, rest, _between())
    usual = float(np.median(chance)) or 1e-12
    strength = strength / usual
    # What slow changes of light feed into short waves is measured on waves of hardly other periods.
    best = int(strength.argmax())
    wave, order = waves[best], int(orders[best])
    return Multiple(order, float(strength[best]), _kept_by(wave, order))


def _waves() -> tuple[Array, Array]:
    found, orders = [], []
    for order in ORDERS:
        for i, j in product(range(order), repeat=2):
            if np.gcd.reduce([i, j, order]) == 1 and (i, j) <= ((-i) % order, (-j) % order):
                found.append((i / order, j / order))
                orders.append(order)
    return np.array(found), np.array(orders)


def _between() -> Array:
    """Waves that are of none of those periods nor near to none at all."""
    steps = np.array([0.13, 0.17, 0.21, 0.29, 0.38, 0.43, 0.57, 0.62, 0.71, 0.79])
    return np.stack(np.meshgrid(steps, steps), -1).reshape(-1, 2)


def _power(numbers: Array, rest: Array, waves: Array) -> Array:
    turned = np.exp(-2j * np.pi * (numbers @ waves.T)).astype(np.complex64)
    sums = turned.T @ rest.astype(np.float32)
    power: Array = (np.abs(sums) ** 2).sum(1) / len(numbers)
    return power


def _kept_by(wave: Array, order: int) -> Array:
    """The lattice of the steps that the wave leaves alone, as whole numbers of the old steps."""
    kept = [
        (i, j)
        for i, j in product(range(-order, order + 1), repeat=2)
        if (i, j) > (0, 0) and abs((i * wave[0] + j * wave[1]) - round(i * wave[0] + j * wave[1])) < 1e-9
    ]
    kept.sort(key=lambda step: (step[0] ** 2 + step[1] ** 2, step))
    for first, one in enumerate(kept):
        for other in kept[first + 1 :]:
            if abs(one[0] * other[1] - one[1] * other[0]) == order:
                return np.rint(reduced(np.array([one, other], float)))
    raise AssertionError("a wave of whole period leaves a lattice alone")
