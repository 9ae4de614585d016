"""Whether the light has moved since it was calibrated: two photographs of the lit pattern, one of then and one of now.

Each is straightened by the pattern in it to the inches that the calibration gives. What is lit lies alike in both then,
wherever the light falls; what the table bears, its edges, grain, scratches, bits of tape, lies elsewhere once the light
has moved. Only dark fields of the pattern and what lies beside the light are looked at, where no edge of light is. The
shift ``d`` of the light is a plane map near nothing, fitted so that ``now(x) = then(x + d(x))`` in brightness, freed
from what changes slowly (B. Lucas and T. Kanade, IJCAI 1981), patch by patch of the table: what a patch tells of its
own shift is no surer than photographs are straightened.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.checking import TOLERANCE_IN
from calibration.photographs.pattern import Pattern
from calibration.photographs.straightening import Grid, Picture, Seen, Straight, straightened
from calibration.table import Table

Array = NDArray[np.float64]

PX_PER_IN, COARSE = 10.0, 3.0
MARGIN_IN = 8.0
"""So much of the table beside the light is looked at."""
FARTHEST_IN = 3.0
"""Movements beyond this are not looked for."""
PATCH_IN = 5.0
BEFOREHAND_IN = 0.75
"""What is known of a movement before: each of its eight numbers about nothing, at the ends of the light (a setting)."""
MOST_PLACES = 150
WRONG_SHARE = 0.35
"""Of a movement so much may be wrong: what the light spreads into dark fields stays where it was (likewise)."""
SCATTER = 0.5
"""Squares by which patches are off the fit, weighed, where room light is as it was (as rendered ones came out)."""
CHI_95 = 2.4477
"""Within so many standard deviations a place in the plane is in 95 of 100."""
LOOSE_PX = 0.4
"""How far off, in pixels of the grid, a place may be that is looked at."""
ALIKE = 0.2
"""Photographs of which what is fixed correlates less than this do not show the same (a setting)."""
DEGREE = 5
"""Of the polynomial that room light and lens are taken for (a setting)."""
ROUNDS, LEAST_PLACES = 12, 500
MOVES_IN = 1 / 32
"""Less than this nobody sees."""


@dataclass(frozen=True, eq=False)
class Settled:
    """How far the light has moved at places (N, 2) of the table: ``shift_in`` (N, 2), right to ``within_in`` (N,)."""

    places_in: Array
    shift_in: Array
    within_in: Array

    @property
    def far_in(self) -> Array:
        """How far (N,) it has moved at each place, as found."""
        return np.asarray(np.linalg.norm(self.shift_in, axis=1))

    @property
    def most_in(self) -> float:
        """It has moved no farther than this anywhere, in 95 of 100."""
        return float((self.far_in + self.within_in).max())

    @property
    def worst(self) -> int:
        """The place where it has moved farthest."""
        return int(self.far_in.argmax())

    @property
    def has_moved(self) -> bool:
        """Whether it has moved somewhere by more than is seen, beyond doubt."""
        return bool(((self.far_in > self.within_in) & (self.far_in > MOVES_IN)).any())

    @property
    def holds(self) -> bool:
        """Whether it has not moved beyond what a cut is allowed."""
        return self.most_in <= TOLERANCE_IN


def settled(table: Table, then: Seen, now: Seen) -> Settled:
    """How the light has moved from ``then`` to ``now``; ``then`` it fell where the table says.

    Raises ``OutOfReach`` for photographs that show another light altogether.
    """
    pattern = Pattern(table.width_px, table.height_px)
    area = table.lit_points(9, 7)
    low, high = area.min(axis=0) - MARGIN_IN, area.max(axis=0) + MARGIN_IN
    middle, half = (low + high) / 2, (high - low) / 2
    numbers = np.zeros(8)
    pair: tuple[Straight, Straight]
    for fine in (COARSE, PX_PER_IN):
        grid = Grid(low, high, fine)
        pair = straightened(then, table, pattern, grid), straightened(now, table, pattern, grid)
        if fine == COARSE:
            numbers[[0, 3]] = _coarse_shift(*pair, grid)
        numbers, spread, scatter = _aligned(*pair, grid, numbers)
    # Told is of places that both photographs saw lit: beside the table there is nothing to go by.
    both = np.intersect1d(then.sighting.numbers, now.sighting.numbers)
    places = table.to_table(pattern.corners_px[both[:: max(1, len(both) // MOST_PLACES)]])
    fine = max(one.fineness_in for one in pair)
    by = _by_numbers((places - middle) / half, float(half[0] / half[1]))
    covariance = scatter * (by @ spread @ by.transpose(0, 2, 1) + fine**2 * np.eye(2))
    within = CHI_95 * np.sqrt(np.linalg.eigvalsh(covariance)[:, 1])
    shift = by @ numbers
    return Settled(places, shift, within + WRONG_SHARE * np.linalg.norm(shift, axis=1))


def _coarse_shift(then: Straight, now: Straight, grid: Grid) -> Array:
    """The shift (2,) of the whole light under which both look most alike, to a grid step."""
    reach = round(FARTHEST_IN * grid.per_in)
    best, found = -np.inf, (0, 0)
    padded = [np.pad(one, reach) for one in (then.values * then.tells, then.tells)]
    rows, columns = now.values.shape
    for v in range(2 * reach + 1):
        for u in range(2 * reach + 1):
            values, tells = (one[v : v + rows, u : u + columns] for one in padded)
            both = tells * now.tells
            a, b = values * both, now.values * both
            alike = float((a * b).sum() / np.sqrt((a * a).sum() * (b * b).sum() + 1e-9))
            if alike > best:
                best, found = alike, (u - reach, v - reach)
    return np.array(found) / grid.per_in


def _by_numbers(near: Array, aspect: float) -> Array:
    """How the shift (N, 2) at places (N, 2), counted in halves of the area from its middle, hangs on the numbers.

    A plane map near nothing, to first order; the area is ``aspect`` times as long as it is deep.
    """
    x, y = near.T
    zero, one = np.zeros_like(x), np.ones_like(x)
    right = np.stack([one, x, y, zero, zero, zero, x * x, aspect * x * y], axis=-1)
    away = np.stack([zero, zero, zero, one, x, y, x * y / aspect, y * y], axis=-1)
    return np.stack([right, away], axis=1)


def _aligned(then: Straight, now: Straight, grid: Grid, numbers: Array) -> tuple[Array, Array, float]:
    """The eight numbers of the shift that lay both upon each other, their covariance (8, 8), and how much more all
    squares are than they should be.

    Each patch tells its own shift no better than photographs are straightened: grain that runs along a table would
    else, by a thousandth of an inch across it, seem to tell how far it has moved along.
    """
    per, fine = grid.per_in, max(one.fineness_in for one in (then, now))
    before = np.eye(8) / BEFOREHAND_IN**2
    unknown = np.zeros(8), np.asarray(np.linalg.inv(before), np.float64), 1.0
    rows, columns = np.indices(now.values.shape)
    patches = (rows // (PATCH_IN * per) * 10_000 + columns // (PATCH_IN * per)).astype(int).ravel()
    near = grid.near.reshape(-1, 2)
    for _ in range(ROUNDS):
        shift = (_by_numbers(near, grid.aspect) @ numbers).reshape(*now.values.shape, 2)
        looked, missed, slopes, alike = _compared(then, now, grid, shift)
        if len(looked) < LEAST_PLACES:
            return unknown
        sigma = max(1.4826 * float(np.median(np.abs(missed))), 1e-4)
        # An edge that is a little off misses by much: that is no reason to disbelieve it.
        squares = sigma**2 + (slopes**2).sum(axis=1) * (LOOSE_PX / per) ** 2
        weights = 1 / (1 + missed**2 / (6 * squares)) / squares
        names, where = np.unique(patches[looked], return_inverse=True)
        weighed = weights[:, None] * slopes
        tells = np.stack([_sums(weighed * slopes[:, [axis]], where, len(names)) for axis in (0, 1)], axis=1)
        pulls = _sums(weighed * missed[:, None], where, len(names))
        middles = _sums(near[looked], where, len(names)) / np.bincount(where)[:, None]
        damped = np.linalg.inv(np.eye(2) + fine**2 * tells)
        by = _by_numbers(middles, grid.aspect)
        far = np.einsum("pi,pij,pj->p", pulls, np.linalg.pinv(tells + fine**2 * tells @ tells), pulls)
        trust = 1 / (1 + far / (3 * max(float(np.median(far)), 2.0)))
        pull = np.einsum("p,pik,pij,pj->k", trust, by, damped, pulls) - before @ numbers
        curve = np.einsum("p,pik,pij,pjl->kl", trust, by, damped @ tells, by) + before
        step = np.linalg.solve(curve, pull)
        numbers = numbers + step
        if np.abs(step).max() < 1e-4:
            break
    if alike < ALIKE:
        return unknown
    # What is noise in either photograph counts as if it told of the table: the less they agree, the less they tell.
    # Room light that has changed makes patches contradict each other, and what all of them share is as wrong.
    scatter = max(1.0, float((trust * far).sum() / trust.sum()) / SCATTER)
    return numbers, np.asarray(np.linalg.inv(curve) / alike**2, np.float64), scatter


def _compared(then: Straight, now: Straight, grid: Grid, shift: Array) -> tuple[NDArray[np.intp], Array, Array, float]:
    """Places (N,) that both tell of, how much brighter (N,) they are now, the slopes (N, 2) of then, an inch; and how
    well what both bear correlates.

    Room light and lens differ between the two, smoothly: a polynomial over the whole table is taken out first. Taken
    out field by field, a slope of light would look like a part of the grain that has moved.
    """
    import cv2

    per = grid.per_in
    rows, columns = np.indices(now.light.shape)
    u, v = (np.asarray(at + per * shift[..., axis], np.float32) for axis, at in ((0, columns), (1, rows)))

    def there(picture: Picture) -> Array:
        moved = cv2.remap(picture, u, v, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT)
        return np.asarray(moved, np.float64).ravel()

    looked = np.flatnonzero((there(then.tells) > 0.99) & (now.tells.ravel() > 0.99))
    mine, theirs = now.light.ravel()[looked].astype(np.float64), there(then.light)[looked]
    gain = _smooth(np.log(np.maximum(mine, 0.02) / np.maximum(theirs, 0.02)), grid.near.reshape(-1, 2)[looked])
    rises = [cv2.Sobel(then.light, cv2.CV_32F, x, 1 - x, scale=per / 8) for x in (1, 0)]
    slopes = [there(np.asarray(one, np.float32))[looked] * gain for one in rises]
    one, other = now.values.ravel()[looked], there(then.values)[looked]
    alike = float((one * other).sum() / np.sqrt((one**2).sum() * (other**2).sum() + 1e-12))
    return looked, mine - gain * theirs, np.stack(slopes, axis=-1), alike


def _smooth(logs: Array, near: Array) -> Array:
    """The factor (N,) that a polynomial, fitted to logarithms (N,) without the farthest, gives."""
    x, y = near.T
    by = np.stack([x**a * y**b for a in range(DEGREE + 1) for b in range(DEGREE + 1 - a)], axis=-1)
    weights = np.ones(len(logs))
    for _ in range(4):
        found = np.linalg.lstsq(by * weights[:, None], logs * weights, rcond=None)[0]
        left = logs - by @ found
        weights = 1 / np.sqrt(1 + (left / (2 * max(float(np.median(np.abs(left))), 1e-4))) ** 2)
    return np.asarray(np.exp(by @ found))


def _sums(values: Array, where: NDArray[np.intp], count: int) -> Array:
    """The rows (N, 2) of each patch added up (count, 2)."""
    return np.stack([np.bincount(where, one, count) for one in values.T], axis=-1)
