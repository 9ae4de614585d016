"""One map of the cloth through many compared places, wrong ones left out, and how well it is known.

The map is that of touched points (``calibration.registration``): shift, turn, stretch, skew, bow. Places that lie near
each other share their errors, of cloth that is not quite even and of the camera; so many places are worth as few, and
a cut line misses the print where it is lit by what the cloth does there, however well the map is known.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from calibration.registration.fit import PrintFit
from calibration.registration.fitting import ALL_TERMS, Pivot, fit_of, table_places, values_of

Array = NDArray[np.float64]

USUAL = np.array([np.inf, np.inf, np.inf, 0.02, 0.012, 0.025, 0.02])
"""What cloth of the trade does, as standard uncertainties, in the order of ``ALL_TERMS`` (common practice, no source):
hardly more than nothing beside a photograph, but it settles what a print of stripes cannot tell."""
REACH_IN = 8.0
"""How far the unevenness of a cloth hangs together (a setting; waves of 1 to 5 ft were tried)."""
LEAST_UNEVEN_IN = 0.004
TELLING_IN = 0.03
"""Places known better than this tell how uneven the cloth is."""
NORMAL_MAD, OF_IT = 1.4826, 0.93
"""Of what is left over a little is the comparison itself (without it 98 in 100 held of what is said of 95)."""
ROUNDS = 12
MEDIAN_FAR = 1.18
"""The median of how far two normal errors lie together, in their spread."""
FARTHEST = 6.0


class Known(Protocol):
    """How places seen in a photograph hang on numbers that are not known for sure, and their ``covariance`` (K, K)."""

    @property
    def covariance(self) -> Array: ...

    def slopes_in(self, table_in: Array, /) -> Array:
        """Derivatives (N, 2, K) of table places (N, 2) by the numbers."""


@dataclass(frozen=True, eq=False)
class Places:
    """Compared places: on the piece (N, 2), where each was seen on the table (N, 2), and how surely: the inverse of its
    covariance (N, 2, 2), in table axes."""

    piece_in: Array
    table_in: Array
    knows: Array

    def kept(self, which: NDArray[np.bool_] | NDArray[np.intp]) -> Places:
        return Places(self.piece_in[which], self.table_in[which], self.knows[which])


@dataclass(frozen=True, eq=False)
class Fitted:
    """The map, its numbers' covariance (7, 7) about ``pivot``, and the spread of the cloth about it, inches each way.

    ``believed`` (N,) are the places that were not left out; ``off_in`` (N, 2) how far each lies from the map;
    ``piece_in`` (N, 2) where they lie on the piece.
    """

    fit: PrintFit
    pivot: Pivot
    covariance: Array
    uneven_in: float
    believed: NDArray[np.bool_]
    off_in: Array
    piece_in: Array

    def counted_on(self, along_in: float, across_in: float) -> Fitted:
        """The same map where every place of the piece is counted so much further along and across.

        The bow is that of the whole width: moved across, its parabola is another one and a slope, which is skew.
        """
        if not along_in and not across_in:
            return self
        fit, width = self.fit, self.fit.lattice.width_in
        slope = 8 * fit.bow_in * across_in / width**2  # of 4 u (1 - u), with u moved by across / width
        there = fit.to_table(np.array([[-along_in, -across_in]]))[0]
        bare = replace(fit, shift=(0.0, 0.0), skew_in=fit.skew_in + slope * width)
        x, y = (there - bare.to_table(np.zeros((1, 2)))[0]).tolist()
        pivot = Pivot(self.pivot.along_in + along_in, self.pivot.across_in + across_in)
        places = self.piece_in + np.array([along_in, across_in])
        return replace(self, fit=replace(bare, shift=(x, y)), pivot=pivot, piece_in=places)


def fit_places(places: Places, start: PrintFit, usual: PrintFit) -> tuple[PrintFit, Pivot, Array, Array]:
    """The map by weighted least squares with long tails: its pivot, the weights (N, 2, 2), what is off (N, 2).

    ``usual`` is what stretch, skew and bow are taken to be where the places tell nothing.
    """
    pivot = Pivot(*places.piece_in.mean(axis=0).tolist())
    values, before = values_of(start, pivot), values_of(usual, pivot)
    width = start.lattice.width_in
    weights = places.knows
    for _ in range(ROUNDS):
        lies, slopes = table_places(values, pivot, places.piece_in, width)
        off = places.table_in - lies
        far = np.sqrt(np.einsum("ni,nij,nj->n", off, places.knows, off))
        scale = max(1.0, float(np.median(far)) / MEDIAN_FAR)
        trust = 1 / (1 + (far / (3 * scale)) ** 2)
        trust[far > FARTHEST * scale] = 0.0
        weights = places.knows * trust[:, None, None] / scale**2
        normal = np.einsum("nip,nij,njq->pq", slopes, weights, slopes) + np.diag(USUAL**-2)
        pull = np.einsum("nip,nij,nj->p", slopes, weights, off) + USUAL**-2 * (before - values)
        step = np.linalg.solve(normal, pull)
        values = values + step
        if np.abs(step).max() < 1e-9:
            break
    lies, _ = table_places(values, pivot, places.piece_in, width)
    return fit_of(values, pivot, start.lattice), pivot, weights, places.table_in - lies


def fitted(places: Places, start: PrintFit, usual: PrintFit, camera: Known) -> Fitted:
    """The map and how well it is known."""
    fit, pivot, weights, off = fit_places(places, start, usual)
    believed = weights[:, 0, 0] + weights[:, 1, 1] > 0
    used, weights = places.kept(believed), weights[believed]
    _, slopes = table_places(values_of(fit, pivot), pivot, used.piece_in, fit.lattice.width_in)
    spread, uneven = _spread(used, off[believed])
    before = np.diag(USUAL**-2)
    inverse = np.linalg.inv(np.einsum("nip,nij,njq->pq", slopes, weights, slopes) + before)
    solver = inverse @ np.einsum("nip,nij->pnj", slopes, weights).reshape(len(ALL_TERMS), -1)
    seen = camera.slopes_in(used.table_in)
    by_camera = solver @ seen.reshape(-1, seen.shape[2])
    covariance = solver @ spread @ solver.T + inverse @ before @ inverse
    covariance = covariance + by_camera @ camera.covariance @ by_camera.T
    return Fitted(fit, pivot, (covariance + covariance.T) / 2, uneven, believed, off, places.piece_in)


def _spread(used: Places, off: Array) -> tuple[Array, float]:
    """The covariance (2 N, 2 N) of what is left over, and how far the cloth is off by itself, each way.

    What is left over at places that are known well is the cloth's own unevenness, as a smooth field; to that comes what
    each place says of itself.
    """
    count = len(off)
    own = np.linalg.inv(used.knows + 1e-3 * np.eye(2))
    alone = np.einsum("nii->ni", own).max(axis=1)
    telling = alone <= max(TELLING_IN**2, float(np.quantile(alone, 0.5)))
    uneven = max(OF_IT * NORMAL_MAD * float(np.median(np.abs(off[telling]))), LEAST_UNEVEN_IN)
    apart = np.linalg.norm(used.piece_in[:, None] - used.piece_in[None], axis=2)
    smooth = uneven**2 * np.exp(-0.5 * (apart / REACH_IN) ** 2)
    spread = np.zeros((count, 2, count, 2))
    spread[:, 0, :, 0] = spread[:, 1, :, 1] = smooth
    spread[np.arange(count), :, np.arange(count), :] += own
    return spread.reshape(2 * count, 2 * count), uneven
