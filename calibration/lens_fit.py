"""A plane map and a lens term fitted together, and whether the marks speak for a lens term at all."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.least_squares import NoConvergence, minimise
from calibration.lens import Lens
from calibration.marks import Mark, outside_frame, pixels_of, tables_of
from calibration.quantiles import student_tail
from calibration.reach import OutOfReach

Array = NDArray[np.float64]

LEAST_MARKS = {1: 6, 2: 8}
"""Marks needed before a term is looked for: three coordinates more than there are parameters, then six more."""
CHANCE = {1: 0.04, 2: 0.01}
"""A term is taken only if marks without it would seem to ask for it in no more than this share of cases."""
LEAST_RMS_PX = 0.02
"""A plain fit this close needs no lens term: what is left is rounding."""
LARGEST = 0.5
"""A term beyond this size is no projector lens but a wrong mark."""


@dataclass(frozen=True)
class LensFit:
    """A fit with ``terms`` radial terms: plane ``matrix``, ``lens`` (None for 0) and summed squared pixel distances.

    ``slopes`` (N, 2, P) are the derivatives of the pixels at the marks, ``missed`` (N, 2) what is left, both scaled
    alike.
    """

    terms: int
    matrix: Array
    lens: Lens | None
    squares: float
    slopes: Array = field(repr=False, compare=False)
    missed: Array = field(repr=False, compare=False)

    @property
    def left_out(self) -> float:
        """Summed squared pixel distances by which each mark is missed when it alone is left out of the fit.

        Without fitting again: ``(I - H)^-1 r`` for each mark's block of the leverage matrix
        (D. Allen, Technometrics 16, 1974; first order, since the fit is not quite linear).
        """
        rows = self.slopes.reshape(len(self.missed) * 2, -1)
        leverage = np.einsum("nip,pnj->nij", self.slopes, np.linalg.pinv(rows).reshape(rows.shape[1], -1, 2))
        return float((np.linalg.solve(np.eye(2) - leverage, self.missed[:, :, None]) ** 2).sum())


def fit_plain(marks: Sequence[Mark], width_px: int, height_px: int) -> LensFit:
    """The plane map alone; the size of the frame does not matter to it."""
    matrix = homography.estimate(tables_of(marks), pixels_of(marks))
    missed = homography.apply(matrix, tables_of(marks)) - pixels_of(marks)
    to_source = homography.similarity(tables_of(marks))
    turned = matrix @ homography.inverse(to_source)
    slopes = homography.sensitivity(turned / turned[2, 2], homography.apply(to_source, tables_of(marks)))
    return LensFit(0, matrix, None, float((missed**2).sum()), slopes, missed)


def fit_lens(marks: Sequence[Mark], width_px: int, height_px: int, terms: int) -> LensFit:
    """Least squares on pixel distance over the plane map and ``terms`` (0, 1, 2) radial terms about the frame's middle.

    Raises ``NoConvergence`` when the marks do not settle the terms.
    """
    if terms == 0:
        return fit_plain(marks, width_px, height_px)
    places, pixels = tables_of(marks), pixels_of(marks)
    plain = homography.estimate(places, pixels)
    to_source, to_target = homography.similarity(places), homography.similarity(pixels)
    source, back = homography.apply(to_source, places), homography.inverse(to_target)
    scale = to_target[0, 0]

    def lens_of(values: Array) -> Lens:
        return Lens.for_frame(width_px, height_px, *(float(value) for value in values[8:]))

    def model(values: Array) -> tuple[Array, Array]:
        plane = np.append(values[:8], 1.0).reshape(3, 3)
        lens = lens_of(values)
        try:
            ideal = homography.apply(back, homography.apply(plane, source))
            missed = lens.apply(ideal) - pixels
        except OutOfReach as lost:
            raise ArithmeticError from lost
        by_plane = lens.jacobian(ideal) @ homography.sensitivity(plane, source) / scale
        slopes = np.concatenate([by_plane, lens.by_terms(ideal)[:, :, :terms]], axis=2)
        return scale * missed.ravel(), scale * slopes.reshape(len(slopes) * 2, -1)

    start = to_target @ plain @ np.linalg.inv(to_source)
    found = minimise(model, np.append((start / start[2, 2]).ravel()[:8], np.zeros(terms)))
    residuals, slopes = model(found)
    missed = residuals.reshape(-1, 2) / scale
    matrix = back @ np.append(found[:8], 1.0).reshape(3, 3) @ to_source
    lens = lens_of(found)
    return LensFit(terms, matrix, lens, float((missed**2).sum()), slopes.reshape(len(missed), 2, -1), missed)


def choose_lens(marks: Sequence[Mark], width_px: int, height_px: int) -> LensFit:
    """The fit the marks speak for: plain, or with k1, or with k1 and k2.

    A term is added when it brings the left-out marks nearer and Student's test of it comes out under ``CHANCE``: the
    left-out marks alone ask for a needless term in about one case in six.
    """
    best = fit_plain(marks, width_px, height_px)
    coordinates = 2 * len(marks)
    if math.sqrt(best.squares / len(marks)) < LEAST_RMS_PX or outside_frame(marks, width_px, height_px):
        return best
    for terms in (1, 2):
        if len(marks) < LEAST_MARKS[terms]:
            break
        try:
            trial = fit_lens(marks, width_px, height_px, terms)
        except NoConvergence:
            break
        if not _believable(trial.lens, width_px, height_px) or not _needed(best, trial, coordinates):
            break
        best = trial
    return best


def _believable(lens: Lens | None, width_px: int, height_px: int) -> bool:
    """Whether the lens is of a size that projectors have, and lights the frame to its corners without folding."""
    if lens is None or max(abs(lens.k1), abs(lens.k2)) > LARGEST:
        return False
    corner = np.hypot(width_px, height_px) / 2 / lens.focal_px
    return bool(lens.lit_radius(np.array([lens.reach_r]))[0] > 1.05 * corner)


def _needed(without: LensFit, trial: LensFit, coordinates: int) -> bool:
    freedom = coordinates - 8 - trial.terms
    if trial.left_out >= without.left_out:
        return False
    gain = max(without.squares - trial.squares, 0.0) / max(trial.squares / freedom, 1e-300)
    return student_tail(math.sqrt(gain), freedom) < CHANCE[trial.terms]
