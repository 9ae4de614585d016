"""How well each of many hypotheses about a set of marks explains them, all fitted in one batch.

A hypothesis says what the numbers of the marks were meant to be, and which of them are not known at all. Each is fitted
like a calibration, map, lens and what is known of lenses together (here from the frame to the table, where numbers are
typed). Its evidence is the chance of the marks under it, with map, lens and steadiness of the hand summed over
(Laplace's approximation: D. MacKay, *Information Theory, Inference, and Learning Algorithms*, 2003, chapters 27 and 28,
from memory), times how often it happens.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.fitting import PLANE, LensPrior
from calibration.lens import Lens
from calibration.marks import HANDS, Placing
from calibration.slips.hypotheses import LARGEST, SMALLEST

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

UNFORESEEN = ((8.0, 0.01), (32.0, 0.01), (128.0, 0.01))
"""``placing.HANDS`` for whatever no hypothesis foresees, such as two wrong marks: how far off, and how often."""
MAP_WIDTHS = np.array([3.0] * 6 + [0.4] * 2)
"""How large the entries of a map between normalised points are: as good as nothing is said of its turn and size, and of
its slant that no projector hangs more than some 30 degrees off."""
TERMS = PLANE + 4
LARGEST_TERM = 0.3
"""No lens term is followed beyond this."""
LEAST_BELOW = 1e-3
"""A denominator as small as this belongs to no hypothesis that explains anything."""


@dataclass(frozen=True)
class Batch:
    """Hypotheses as arrays: places (H, N, 2) in inches as meant, which numbers are unknown, how often (H,)."""

    places: Array
    unknown: Mask
    chance: Array

    def only(self, rows: NDArray[np.intp]) -> Batch:
        """These hypotheses alone."""
        return Batch(self.places[rows], self.unknown[rows], self.chance[rows])


@dataclass(frozen=True)
class Frame:
    """What all hypotheses share: the pixels (N, 2) of the marks, the frame, how marks are placed, what lenses do."""

    pixels: Array
    width_px: int
    height_px: int
    placing: Placing
    prior: LensPrior


class Evidence:
    """The fits of a batch of hypotheses after so many ``steps`` of least squares, and how well each explains the marks.

    ``missed`` (H, N, 2) is what is left at each mark in standard uncertainties, ``squares`` (H,) their sum.
    """

    def __init__(self, batch: Batch, frame: Frame, steps: int) -> None:
        self._batch, self._frame, self._known = batch, frame, ~batch.unknown
        self._away = (frame.pixels - (frame.width_px / 2, frame.height_px / 2)) / frame.width_px
        lens = Lens.for_frame(frame.width_px, frame.height_px)
        # By how much the lens terms move ideal points (N, 2, 4), to first order, in widths of the frame.
        self._bend = -lens.by_terms(frame.pixels) / frame.width_px
        self._middle = batch.places.mean(axis=1)
        centred = batch.places - self._middle[:, None]
        self._inches = np.abs(centred).mean(axis=(1, 2)) + 1e-9
        self._target = centred / self._inches[:, None, None]
        self._values = np.concatenate([self._direct(), np.zeros((len(centred), TERMS - PLANE))], axis=1)
        k1_square = np.full(len(centred), frame.prior.k1**2)
        for _ in range(steps):
            spread, step = self._step(k1_square)
            self._values = self._values + step
            self._values[:, PLANE:] = np.clip(self._values[:, PLANE:], -LARGEST_TERM, LARGEST_TERM)
            k1_square = self._values[:, PLANE] ** 2 + spread[:, PLANE, PLANE]
        self._widths, self._log_volume = frame.prior.widths(k1_square), np.linalg.slogdet(spread)[1]
        self.missed, _, self._log_spread = self._rows()
        self.squares = (self.missed**2).sum(axis=(1, 2))

    def _step(self, k1_square: Array) -> tuple[Array, Array]:
        """Covariances (H, P, P) of the parameters, and the step (H, P) that makes the squares least."""
        missed, rows, _ = self._rows()
        count = len(rows)
        rows = rows.reshape(count, -1, TERMS)
        back = rows.transpose(0, 2, 1)
        precision = (
            np.concatenate([np.broadcast_to(MAP_WIDTHS, (count, PLANE)), self._frame.prior.widths(k1_square)], axis=1)
            ** -2.0
        )
        normal = back @ rows
        normal[:, range(TERMS), range(TERMS)] += precision
        gradient = back @ missed.reshape(count, -1, 1) + (self._values * precision)[:, :, None]
        spread = np.linalg.inv(normal)
        return np.asarray(spread), -(spread @ gradient)[:, :, 0]

    def _direct(self) -> Array:
        """First maps (H, 8), linear in the algebraic error; the middle of the frame never maps to infinity."""
        count, marks = self._target.shape[:2]
        rows = np.zeros((count, marks, 2, PLANE))
        rows[:, :, 0, 0:3] = rows[:, :, 1, 3:6] = np.column_stack([self._away, np.ones(marks)])
        rows[:, :, :, 6:8] = -self._target[:, :, :, None] * self._away[:, None]
        rows = (rows * self._known[:, :, :, None]).reshape(count, -1, PLANE)
        back, wanted = rows.transpose(0, 2, 1), (self._target * self._known).reshape(count, -1, 1)
        return np.asarray(np.linalg.solve(back @ rows + 1e-10 * np.eye(PLANE), back @ wanted)[:, :, 0])

    def _projected(self) -> tuple[Array, Array, Array]:
        """Ideal points over their denominators (H, N, 3), these (H, N), and where each mark's pixel falls (H, N, 2)."""
        ideal = self._away + np.tensordot(self._values[:, PLANE:], self._bend, axes=(1, 2))
        lifted = np.concatenate([ideal, np.ones((*ideal.shape[:2], 1))], axis=2)
        below = 1 + (ideal @ self._values[:, 6:8, None])[:, :, 0]
        below = np.where(np.abs(below) < LEAST_BELOW, LEAST_BELOW, below)
        over = lifted / below[:, :, None]
        return over, below, over @ self._values[:, :6].reshape(-1, 2, 3).transpose(0, 2, 1)

    def _rows(self) -> tuple[Array, Array, Array]:
        """Weighed misses (H, N, 2), their derivatives (H, N, 2, P) and the logarithm (H,) of what they are weighed by.

        Of a mark with one unknown number the other counts by itself.
        """
        over, below, image = self._projected()
        top, slant = self._values[:, :6].reshape(-1, 1, 2, 3), self._values[:, None, None, 6:8]
        by_ideal = (top[..., :2] - image[..., None] * slant) / below[..., None, None]
        slopes = np.zeros((*image.shape, TERMS))
        slopes[:, :, 0, 0:3] = slopes[:, :, 1, 3:6] = over
        slopes[:, :, :, 6:8] = -image[..., None] * over[:, :, None, :2]
        slopes[:, :, :, PLANE:] = by_ideal @ self._bend
        inches = self._inches[:, None, None]
        per_px = by_ideal * (inches / self._frame.width_px)[..., None]
        placing = self._frame.placing
        spread = placing.pointing_px**2 * per_px @ per_px.transpose(0, 1, 3, 2) + placing.tape_in**2 * np.eye(2)
        missed, slopes = (image - self._target) * inches, slopes * inches[..., None]
        a, b, c = spread[..., 0, 0], spread[..., 0, 1], spread[..., 1, 1]
        corner = np.where(self._known.all(axis=2), b / a, 0.0)
        missed[..., 1] -= corner * missed[..., 0]
        slopes[:, :, 1] -= corner[..., None] * slopes[:, :, 0]
        weight = np.stack([a, c - corner * b], axis=2) ** -0.5
        log_weight = (np.log(weight) * self._known).sum(axis=(1, 2))
        weight = weight * self._known
        return missed * weight, slopes * weight[..., None], log_weight

    def log_chances(self) -> Array:
        """Logarithm (H + 1,) of the chance of each hypothesis once the marks are seen; they sum to 1.

        The last one is that something else is wrong, which no hypothesis foresees.
        """
        prior, terms = self._frame.prior, self._values[:, PLANE:]
        rows = self._known.sum(axis=(1, 2))
        # The chance of the slip itself, of the marks under it, and of its map and its lens, volume included.
        total = np.log(self._batch.chance) + self._log_spread - 0.5 * np.log(2 * np.pi) * rows + 0.5 * self._log_volume
        total = total - 0.5 * ((self._values[:, :PLANE] / MAP_WIDTHS) ** 2).sum(axis=1) + self._log_of_unknown()
        total -= 0.5 * (prior.tails + 1) * np.log1p(terms[:, 0] ** 2 / (prior.tails * prior.k1**2))
        total -= 0.5 * (np.maximum(np.abs(terms[:, 0]) - prior.most, 0) / prior.k1) ** 2
        total -= 0.5 * ((terms[:, 1:] / self._widths[:, 1:]) ** 2).sum(axis=1) + np.log(self._widths[:, 2:]).sum(axis=1)
        freedom = rows - PLANE
        foreseen = total + _log_of_hands(HANDS, self.squares, freedom)
        found = np.append(foreseen, total[0] + _log_of_hands(UNFORESEEN, self.squares[:1], freedom[:1]))
        return np.asarray(found - np.logaddexp.reduce(found))

    def _log_of_unknown(self) -> Array:
        """Logarithm (H,) of the density of the unknown numbers: off by anything, each doubling alike."""
        unknown = self._batch.unknown
        off = np.abs(self._projected()[2] - self._target) * self._inches[:, None, None]
        doublings = np.log(LARGEST / SMALLEST)
        one = -np.log(2 * np.maximum(off, SMALLEST) * doublings)
        both = -np.log(2 * np.pi * np.maximum((off**2).sum(axis=2), SMALLEST**2) * doublings)
        return np.asarray(np.where(unknown.all(axis=2), both, (one * unknown).sum(axis=2)).sum(axis=1))

    def wanted_in(self, row: int, mark: int) -> tuple[float, float]:
        """Where hypothesis ``row`` wants a mark (index), inches."""
        x, y = (self._projected()[2][row, mark] * self._inches[row] + self._middle[row]).tolist()
        return x, y


def _log_of_hands(hands: Sequence[tuple[float, float]], squares: Array, freedom: NDArray[np.int_]) -> Array:
    each = [np.log(share) - 0.5 * squares / worse**2 - freedom * np.log(worse) for worse, share in hands]
    return np.asarray(np.logaddexp.reduce(np.stack(each), axis=0))
