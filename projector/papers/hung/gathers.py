"""Cloth gathered in soft even folds, seen from the front: where each place of the flat cloth comes to hang."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FOLD_IN = 4.5
"""About how wide a fold is as it hangs."""
_STRIPS = 16
_LEAST_FULLNESS = 1.02
_LIGHT_DEG = 35.0
_SHADE = 0.38


@dataclass(frozen=True)
class Gather:
    """Edges of upright strips, inches from the left side, on the ``flat`` cloth and as ``hung`` (strips + 1), and the
    ``light`` each strip gets, 1 where it faces the light (strips)."""

    flat: Array
    hung: Array
    light: Array

    @property
    def width(self) -> float:
        """How wide the cloth hangs, inches."""
        return float(self.hung[-1])


def gathered(width: float, fullness: float) -> Gather:
    """Cloth ``width`` inches wide, hung ``fullness`` times narrower in waves whose length is the cloth's.

    The front of a wave z = d sin(kx) has the slope a cos(kx); a is found so that the length along the wave, the mean of
    sqrt(1 + slope^2), is the fullness. The light comes from the left: it is least a little right of where a fold is
    deepest, and changes evenly from there, so that the print stays readable.
    """
    if fullness < _LEAST_FULLNESS:
        return Gather(np.array([0.0, width]), np.array([0.0, width]), np.ones(1))
    hung_width = width / fullness
    folds = max(1, round(hung_width / FOLD_IN))
    hung = np.linspace(0.0, hung_width, folds * _STRIPS + 1)
    middles = (hung[1:] + hung[:-1]) / 2
    phase = 2 * math.pi * folds * middles / hung_width
    wave = np.cos(phase)
    slope = _steepness(wave, fullness) * wave
    lengths = np.sqrt(1 + slope**2)
    flat = np.concatenate([[0.0], np.cumsum(lengths)])
    facing = (1 + np.sin(phase + math.radians(_LIGHT_DEG))) / 2
    return Gather(flat * width / flat[-1], hung, 1 - _SHADE + _SHADE * facing)


def _steepness(wave: Array, fullness: float) -> float:
    low, high = 0.0, 4 * fullness
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if np.sqrt(1 + (middle * wave) ** 2).mean() < fullness else (low, middle)
    return high
