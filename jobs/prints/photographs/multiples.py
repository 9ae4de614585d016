"""Whether the true repeat is a multiple of the one followed, because every other motif differs a little."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from math import gcd

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from jobs.prints.photographs.basis import reduced
from jobs.prints.photographs.cells import Cells
from jobs.prints.photographs.following import Followed, follow
from jobs.prints.photographs.opening import Array, Pixels
from jobs.prints.photographs.plane import Plane

Waves = NDArray[np.complex64]

ORDERS = (2, 3, 4)
SURE = 6.0
"""A difference that comes again must stand this many standard errors above chance ..."""
SURE_SHARE = 0.06
"""... and be this share of the print's contrast: less than that a camera and uneven light make by themselves."""
NEAR = 4.5
NEAR_SHARE = 0.02
"""From here on the larger repeat is named as the second answer."""
PLAIN_SHARE = 0.1
"""The share that is worth a word where it may be light that changes, and that is sure where it comes again so few times
in the picture that light might do the same."""
SLOW_PERIODS = 2.4
STEADY = 0.25
"""Share of the mean that the middling repeat must have in the difference: less, and it comes from a few repeats at the
edge of the cloth or under a fold."""
LEAST_CELLS = 6
LEAST_PERIODS = 1.5
"""Of the doubled repeat that must be seen for a word about it; for more than a word, or for larger ones, two."""
_FINEST_WAVE = 0.25
"""Of a cell, in turns a point: finer ones hold what sampling between pixels does."""
_TYPICAL_SHARE = 0.1
_LEAST_SEEN = 0.25
_FEW_ROWS = 3
_NEARLY_AS_STRONG = 0.8


@dataclass(frozen=True)
class Multiple:
    """The difference that comes again every ``order`` repeats: ``strength`` in standard errors above chance, ``share``
    of the print's contrast, and the whole-number steps ``change`` (2, 2) of the larger lattice, each row in old steps.
    ``steady`` tells whether all repeats take part, ``periods`` how many of the larger ones are seen. With three rows
    only, a motif that differs in the middle one may be light that changes: not ``differs_from_light``.
    """

    order: int
    strength: float
    share: float
    change: Array
    steady: float
    periods: float
    differs_from_light: bool = True

    @property
    def sure(self) -> bool:
        """Whether the larger repeat is taken."""
        share = PLAIN_SHARE if self.periods < SLOW_PERIODS else SURE_SHARE
        evident = self.strength > SURE and self.share > share and self.steady > STEADY
        return evident and self.differs_from_light and self.periods > 1.99

    @property
    def near(self) -> bool:
        """Whether it is worth a word."""
        share = NEAR_SHARE if self.differs_from_light else PLAIN_SHARE
        return self.steady > STEADY and self.strength > NEAR and self.share > share


def strongest_multiple(cells: Cells) -> Multiple | None:
    """The multiple of the repeat with the strongest evidence, None where there are too few repeats to tell.

    The differences of the repeats from their mean are turned into waves over the repeats, for each wave inside the
    cell. A difference that comes again feeds the waves of a whole period of 2, 3 or 4 repeats; what the waves of no
    such period hold is chance. The waves inside the cell are weighed as by Wiener's filter (N. Wiener, Extrapolation,
    Interpolation, and Smoothing of Stationary Time Series, 1949): by how far the print itself stands above chance.
    """
    if len(cells.numbers) < LEAST_CELLS:
        return None
    inner, numbers = _inner_waves(cells), cells.numbers.astype(float)
    found = _strongest(inner, numbers, _slow(numbers, bent=True))
    few = min(len(np.unique(numbers[:, k])) for k in (0, 1)) <= _FEW_ROWS
    if (found is not None and found.near) or not few:
        return found
    unbent = _strongest(inner, numbers, _slow(numbers, bent=False))
    return replace(unbent, differs_from_light=False) if unbent is not None else found


def _strongest(inner: Waves, numbers: Array, slow: Array) -> Multiple | None:
    rest = (inner - slow @ (slow.T @ inner)).astype(np.complex64)
    waves, orders = _waves()
    chance, seen = _power(numbers, rest, slow, _between())
    if not (seen > _LEAST_SEEN).any():
        return None
    noise = np.median(chance[seen > _LEAST_SEEN], 0) / np.log(2)
    noise = np.maximum(noise, noise.mean() * 1e-3) + 1e-20
    count = len(numbers)
    print_power = np.maximum(np.abs(inner.mean(0)) ** 2 - noise / count, 0)
    expected = _TYPICAL_SHARE**2 / 4 * count * print_power / noise
    weight = expected / (1 + expected)
    if not weight.sum() > 0:
        return None
    power, seen = _power(numbers, rest, slow, waves)
    strength = (power / noise @ weight / weight.sum() - 1) * weight.sum() / np.sqrt((weight**2).sum())
    # A wave and one that is whole turns quicker from repeat to repeat are the same: the slowest counts.
    same = waves[:, None] - np.array(list(product((0, 1), repeat=2)))
    periods = np.ptp(np.tensordot(numbers, same, (1, 2)), axis=0).min(1) + 1 / orders
    strength[(seen < _LEAST_SEEN) | (periods < np.where(orders > 2, 2.0, LEAST_PERIODS) - 0.01)] = -np.inf
    if strength.max() <= 0:
        return None
    # With few repeats a period of three or four can hardly be told from one of two: the least is taken.
    good = np.nonzero(strength >= _NEARLY_AS_STRONG * strength.max())[0]
    best = int(min(good, key=lambda k: (orders[k], -strength[k])))
    excess = float((power[best] - noise) @ weight / (print_power @ weight * count))
    change = _kept_by(waves[best], int(orders[best]))
    steady = _steadiness(numbers, rest, waves[best], weight / noise)
    share = 2 * max(0.0, excess) ** 0.5
    return Multiple(int(orders[best]), float(strength[best]), share, change, steady, float(periods[best]))


def _steadiness(numbers: Array, rest: Waves, wave: Array, weight: Array) -> float:
    """What the middling repeat adds to the difference that comes again, as a share of what all add in the mean."""
    turned = np.exp(2j * np.pi * (numbers @ wave)).astype(np.complex64)
    whole = turned @ rest
    each = (turned * (rest @ (np.conj(whole) * weight))).real
    return float(np.median(each) / max(float(each.mean()), 1e-30))


def _inner_waves(cells: Cells) -> Waves:
    """The coarse waves (n, m) inside each repeat, all channels."""
    high, wide = cells.values.shape[1:3]
    spectra = np.fft.rfft2(cells.values, axes=(1, 2))
    down, across = np.abs(np.fft.fftfreq(high))[:, None], np.fft.rfftfreq(wide)[None]
    kept = (down <= _FINEST_WAVE) & (across <= _FINEST_WAVE) & (down + across > 0)
    coarse: Waves = spectra[:, kept].reshape(len(spectra), -1).astype(np.complex64)
    return coarse


def _slow(numbers: Array, *, bent: bool) -> Array:
    """Orthonormal columns (n, k) of what changes slowly over the repeats, as light does: no evidence of a repeat."""
    one, other = (numbers - numbers.mean(0)).T
    columns = [np.ones(len(numbers)), one, other]
    if bent:
        columns += [one**2, one * other, other**2]
    basis, sizes, _ = np.linalg.svd(np.stack(columns, 1), full_matrices=False)
    kept: Array = basis[:, sizes > 1e-9 * sizes[0]]
    return kept


def _waves() -> tuple[Array, Array]:
    found, orders = [], []
    for order in ORDERS:
        for i, j in product(range(order), repeat=2):
            if gcd(i, j, order) == 1 and (i, j) <= ((-i) % order, (-j) % order):
                found.append((i / order, j / order))
                orders.append(order)
    return np.array(found), np.array(orders)


def _between() -> Array:
    """Waves that are of none of those periods nor near to none at all."""
    steps = np.array([0.13, 0.17, 0.21, 0.29, 0.38, 0.43, 0.57, 0.62, 0.71, 0.79])
    return np.stack(np.meshgrid(steps, steps), -1).reshape(-1, 2)


def _power(numbers: Array, rest: Waves, slow: Array, waves: Array) -> tuple[Array, Array]:
    """Power (w, m) of each wave over the repeats, chance giving the same to all, and how much of it is seen (w,)."""
    turned = np.exp(-2j * np.pi * (numbers @ waves.T))
    turned = turned - slow @ (slow.T @ turned)
    size = (np.abs(turned) ** 2).sum(0)
    sums = turned.conj().T.astype(np.complex64) @ rest
    power: Array = np.abs(sums).astype(float) ** 2 / np.maximum(size, 1e-6)[:, None]
    return power, size / len(numbers)


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


_MOST_TIMES = 3


@dataclass(frozen=True, eq=False)
class Reading:
    """A lattice; ``followed`` over the picture, None where the evidence for it is short of sure. ``share`` of the
    contrast by which motifs of the reading before it differ in turn."""

    plane: Plane
    followed: Followed | None
    share: float = 0.0


def readings_of(channels: Pixels, followed: Followed) -> list[Reading]:
    """From the smallest repeat to the largest there is evidence for."""
    chain = [Reading(followed.plane, followed)]
    for _ in range(_MOST_TIMES):
        multiple = strongest_multiple(followed.cells)
        if multiple is None or not multiple.near:
            break
        plane = followed.plane.through(multiple.change)
        plane = plane.through(_shorter(plane, channels))
        again = follow(channels, plane.steps_at(_middle(channels))) if multiple.sure else None
        if again is None:
            chain.append(Reading(plane, None, multiple.share))
            break
        chain.append(Reading(again.plane, again, multiple.share))
        followed = again
    return chain


def _middle(channels: Pixels) -> Array:
    return np.array([channels.shape[1] / 2, channels.shape[0] / 2])


def _shorter(plane: Plane, channels: Pixels) -> Array:
    steps = plane.steps_at(_middle(channels))
    changed: Array = np.rint(reduced(steps) @ np.linalg.inv(steps))
    return changed
