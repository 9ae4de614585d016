"""The map and the lens fitted together: marks weighed by how well they were placed, the lens by what lenses are like.

A handful of marks says little of the lens, and what it does not say must not be forgotten. So the least squares have,
beside the marks, one pseudo-observation for each lens term: that it is about nothing, give or take what projectors
have (``LensPrior``). Few marks then leave the lens plain and all of its uncertainty; many outvote the prior.
Method, from memory: A. Gelman and others, *Bayesian Data Analysis*, 3rd ed., 2013, 14.8 (prior information as extra
rows); the long tails of k1 are Student's, fitted by reweighting (ibid., 13.4 and 17.2).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.homography import OutOfReach
from calibration.least_squares import NoConvergence
from calibration.lens import Lens
from calibration.marks import Mark, Placing, outside_frame, pixels_of, tables_of

Array = NDArray[np.float64]

PLANE = 8
"""Parameters of the plane map; the lens adds four: k1, k2 and the two numbers of its decentring."""
LEAST_BEND_PX = 0.01
"""A lens that moves no corner of the frame by this much is none: what is left is rounding."""
MOST_STEPS = 60
FOLLY, NO_AXIS = 1.25, 20.0
"""A lens that seems to bend so many times more than any does, or whose axis seems so far off (squared, in widths)."""
SETTLED = 1e-10
"""A step that would change the weighted squares by no more than this has arrived: a hundred-thousandth of an error."""


@dataclass(frozen=True)
class LensPrior:
    """What is known of a projector's lens before any mark: standard uncertainties of its terms, each about nothing.

    Settings, from what room projectors do (common practice, no source). ``k1``, in units of the frame's width: bends
    up to about 0.02 either way are usual (1/10 in over 96 in of light); a few bend far more, hence Student's ``tails``
    degrees of freedom, but none by more than ``most``. ``k2``: what is left beyond k1. ``axis``: how far the axis of
    the lens stands from the middle of the frame, each way, as a share of its width; up to 400 of 1920 pixels is usual,
    for lenses are shifted. ``k1`` and ``axis`` are a little more than the spread of lenses drawn evenly from what is
    usual: the bend goes by their product, whose tails are longer than those of the normal error that stands for it.
    """

    k1: float = 0.0125
    k2: float = 0.005
    axis: float = 0.15
    tails: float = 4.0
    most: float = 0.06

    @property
    def is_plain(self) -> bool:
        """Whether the lens is known to bend nothing."""
        return self.k1 == 0

    def widths(self, k1_square: float | Array) -> Array:
        """Standard uncertainties (..., 4) of k1, k2 and the decentring, once the mean square (...) of k1 is known.

        That of k1 is Student's; an axis away from the middle by c is a decentring of -k1 c.
        """
        k1_square = np.minimum(k1_square, self.most**2)
        k1 = np.sqrt((self.tails * self.k1**2 + k1_square) / (self.tails + 1))
        decentring = self.axis * np.sqrt(k1_square)
        return np.stack([k1, np.full_like(k1, self.k2), decentring, decentring], axis=-1)


USUAL = LensPrior()
PLAIN = LensPrior(0.0, 0.0, 0.0)
"""A lens known to be perfect."""


@dataclass(frozen=True)
class Fit:
    """A plane ``matrix`` (table inch to ideal pixel, denominators positive at the marks) and a ``lens``."""

    matrix: Array
    lens: Lens

    @property
    def terms(self) -> Array:
        """k1, k2 and the decentring (4,)."""
        return np.array([self.lens.k1, self.lens.k2, *self.lens.decentring])


class Linearised:
    """A fit beside its marks, to first order: what is left at them, and how sure its parameters are.

    Parameters are the first 8 entries of the map between normalised points, then the ``terms`` of the lens, which a
    plain ``prior`` leaves out. ``scale`` multiplies the placing errors.
    """

    def __init__(
        self, fit: Fit, marks: Sequence[Mark], placing: Placing, prior: LensPrior = USUAL, scale: float = 1.0
    ) -> None:
        self.fit, self.prior = fit, prior
        places, pixels = tables_of(marks), pixels_of(marks)
        self._to_source, self._to_target = homography.similarity(places), homography.similarity(pixels)
        middle = self._to_target @ fit.matrix @ homography.inverse(self._to_source)
        self._middle = middle / middle[2, 2]
        ideal = homography.apply(fit.matrix, places)
        per_inch = fit.lens.jacobian(ideal) @ homography.jacobian(fit.matrix, places)
        whiten = np.linalg.inv(np.linalg.cholesky(placing.covariance_px(per_inch))) / scale
        missed = (fit.lens.apply(ideal) - pixels)[:, :, None]
        self._missed = (whiten @ missed).ravel()
        self.worst_in = float(np.linalg.norm(np.linalg.solve(per_inch, missed), axis=1).max())
        self._rows = (whiten @ self.slopes(places)).reshape(2 * len(places), -1)
        self._per_inch = whiten @ per_inch
        self._information = self._rows.T @ self._rows
        self._widths = self._settled_widths()
        self.precision = self._information + self._prior_precision(self._widths)
        self.covariance = np.asarray(np.linalg.inv(self.precision))

    def _prior_precision(self, widths: Array) -> Array:
        return np.diag(np.append(np.zeros(PLANE), [] if self.prior.is_plain else widths**-2.0))

    def _settled_widths(self) -> Array:
        """The widths of the prior and the mean square of k1, each as the other wants it."""
        widths = self.prior.widths(self.prior.k1**2)
        for _ in range(0 if self.prior.is_plain else 10):
            spread = np.linalg.inv(self._information + self._prior_precision(widths))[PLANE, PLANE]
            widths = self.prior.widths(self.fit.lens.k1**2 + float(spread))
        return widths

    def slopes(self, points_in: Array) -> Array:
        """Derivatives (N, 2, P) of the lit pixel at table points (N, 2) by the parameters."""
        lens, ideal = self.fit.lens, homography.apply(self.fit.matrix, points_in)
        plane = homography.sensitivity(self._middle, homography.apply(self._to_source, points_in))
        by_plane = lens.jacobian(ideal) @ plane / self._to_target[0, 0]
        return by_plane if self.prior.is_plain else np.concatenate([by_plane, lens.by_terms(ideal)], axis=2)

    def information_of_others(self) -> Array:
        """Inverse variance (N, 2), to the square inch, with which the other marks test each number of a mark."""
        count = len(self._per_inch)
        left = np.eye(2 * count) - self._rows @ self.covariance @ self._rows.T
        blocks = np.stack([left[2 * at : 2 * at + 2, 2 * at : 2 * at + 2] for at in range(count)])
        return np.asarray(np.einsum("nia,nij,nja->na", self._per_inch, blocks, self._per_inch))

    @property
    def squares(self) -> float:
        """Weighted squares of what is left, prior rows included: a chi-square of two a mark, less the 8 of the map."""
        return float(self._missed @ self._missed) + float(self._strange.sum())

    @property
    def _strange(self) -> Array:
        """How far the lens is from what lenses are: squares (4,) of its terms in their widths."""
        return np.zeros(4) if self.prior.is_plain else (self.fit.terms / self._widths) ** 2

    @property
    def is_no_lens(self) -> bool:
        """Whether no projector has this lens: it bends too much, or far more than its axis would let it."""
        return abs(self.fit.lens.k1) > FOLLY * self.prior.most or float(self._strange[2:].sum()) > NO_AXIS

    def step(self) -> Array:
        """The change of the parameters (P,) that makes the squares least, to first order."""
        gradient = self._rows.T @ self._missed
        if not self.prior.is_plain:
            gradient[PLANE:] += self.fit.terms * self._widths**-2.0
        return -self.covariance @ gradient

    def moved(self, step: Array) -> Fit:
        """The fit with its parameters changed by ``step`` (P,)."""
        middle = self._middle + np.append(step[:PLANE], 0.0).reshape(3, 3)
        matrix = homography.inverse(self._to_target) @ middle @ self._to_source
        if self.prior.is_plain:
            return replace(self.fit, matrix=matrix)
        k1, k2, p_x, p_y = (self.fit.terms + step[PLANE:]).tolist()
        return Fit(matrix, replace(self.fit.lens, k1=k1, k2=k2, decentring=(p_x, p_y)))


def fit_marks(marks: Sequence[Mark], width_px: int, height_px: int, placing: Placing, prior: LensPrior = USUAL) -> Fit:
    """The likeliest map and lens. Four marks are met exactly, by a plain lens.

    Marks outside the frame tell nothing of a lens: then the map alone is fitted. Raises what ``homography.estimate``
    does, and ``NoConvergence``.
    """
    fit = Fit(homography.estimate(tables_of(marks), pixels_of(marks)), Lens.for_frame(width_px, height_px))
    if len(marks) == 4:
        return fit
    if outside_frame(marks, width_px, height_px):
        prior = PLAIN
    now = Linearised(fit, marks, placing, prior)
    for _ in range(MOST_STEPS):
        step = now.step()
        for halved in range(12):
            try:
                there = Linearised(now.moved(step * 0.5**halved), marks, placing, prior)
            except (OutOfReach, np.linalg.LinAlgError):
                continue
            if there.squares <= 1.01 * now.squares + SETTLED:  # the prior's width moves a little along with k1
                break
        else:
            return _tidy(now.fit, width_px, height_px)
        now, arrived = there, float(step @ now.precision @ step) <= SETTLED
        if arrived:
            return _tidy(now.fit, width_px, height_px)
    raise NoConvergence(f"no settled fit after {MOST_STEPS} steps")


def _tidy(fit: Fit, width_px: int, height_px: int) -> Fit:
    """The fit with a plain lens where its lens moves nothing that could be seen."""
    corners = np.array([(0.0, 0.0), (width_px, 0.0), (width_px, height_px), (0.0, height_px)])
    if np.abs(fit.lens.apply(corners) - corners).max() > LEAST_BEND_PX:
        return fit
    return replace(fit, lens=Lens.for_frame(width_px, height_px))
