"""The few probabilities needed to judge errors: of a plane normal error, of a sum of squares."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

CENTRAL_95 = 1.959963984540054
"""A normal error stays within this many standard uncertainties in 95 % of cases (one direction)."""


def radial_tail(radius: Array, large: Array, small: Array) -> Array:
    """Chance that a plane normal error is longer than ``radius``, its two variances being ``large >= small``.

    With the error written as a Rayleigh length times a direction a, the chance is the mean over a of
    ``exp(-radius^2 / (2 (large cos^2 a + small sin^2 a)))``: a periodic function, so equal steps converge fast.
    """
    angles = (np.arange(256) + 0.5) * (math.pi / 2 / 256)
    spread = large[..., None] * np.cos(angles) ** 2 + small[..., None] * np.sin(angles) ** 2
    return np.exp(-0.5 * radius[..., None] ** 2 / spread).mean(axis=-1)


@lru_cache(maxsize=8)
def _radial_table(chance: float) -> tuple[Array, Array]:
    """Quantiles (R,) of the length for variances 1 and ratio (R,), found by halving."""
    ratios = np.linspace(0.0, 1.0, 257)
    low, high = np.zeros_like(ratios), np.full_like(ratios, 10.0)
    for _ in range(60):
        middle = 0.5 * (low + high)
        inside = radial_tail(middle, np.ones_like(ratios), ratios) <= 1 - chance
        low, high = np.where(inside, low, middle), np.where(inside, middle, high)
    return ratios, 0.5 * (low + high)


def principal_variances(covariance: Array) -> tuple[Array, Array]:
    """The larger and the smaller eigenvalue (N,) of covariances (N, 2, 2)."""
    half_sum = 0.5 * (covariance[:, 0, 0] + covariance[:, 1, 1])
    apart = np.hypot(0.5 * (covariance[:, 0, 0] - covariance[:, 1, 1]), covariance[:, 0, 1])
    return half_sum + apart, np.maximum(half_sum - apart, 0.0)


def radial_quantile(covariance: Array, chance: float = 0.95) -> Array:
    """Radius (N,) that a plane normal error of ``covariance`` (N, 2, 2) stays within with this chance.

    From the two principal variances: 1.960 standard uncertainties for a needle, 2.448 for a circle.
    """
    large, small = principal_variances(covariance)
    ratio = np.divide(small, large, out=np.zeros_like(large), where=large > 0)
    return np.sqrt(large) * np.interp(ratio, *_radial_table(chance))


def squares_tail(total: float, freedom: int) -> float:
    """Chance that a chi-square of ``freedom`` >= 1 exceeds ``total``.

    M. Abramowitz and I. Stegun, *Handbook of Mathematical Functions* (1964), 26.4.4 and 26.4.5.
    """
    half = max(total, 0.0) / 2
    if half > 700:
        return 0.0
    if freedom % 2 == 0:
        term, tail = math.exp(-half), 0.0
        for index in range(freedom // 2):
            tail += term
            term *= half / (index + 1)
        return tail
    tail = math.erfc(math.sqrt(half))
    term = math.exp(-half) * math.sqrt(half) / (math.sqrt(math.pi) / 2)
    for index in range((freedom - 1) // 2):
        tail += term
        term *= half / (index + 1.5)
    return tail
