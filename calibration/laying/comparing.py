"""The print compared with its tile all over the cloth, to a small part of a repeat.

Under the map so far the flat photograph is laid out as the piece; there both pictures are freed of their local mean and
brought to one local contrast, and what is left between them tells, window by window, how far the print lies from the
map (B. Lucas and T. Kanade, IJCAI 1981). A window knows that each way only as far as its print has edges that way.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.laying.fitting import Places
from calibration.laying.flattening import Flat
from calibration.laying.grids import COARSER, blurred, on_grid, spread_out, window_sums
from calibration.laying.tile import Tile
from calibration.laying.windows import Pair, at_middles, even, middles, moves
from calibration.registration.fit import PrintFit

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

WINDOW_IN = 1.6
"""A window weighs its places as far as a bell of this spread."""
MOST_WINDOWS = 200
SMOOTH_PLACES = 1.1
LEAST_SEEN, LEAST_ALIKE, LEAST_CONTRAST = 0.25, 0.35, 0.02
FARTHEST_IN = 0.6
"""Moves beyond this are none that a comparison under a map so far can tell."""
EDGE_IN = 0.7
"""So near to a selvedge nothing is compared: unprinted strips, hems, and threads."""
INDEPENDENT = 24.0
"""So many points of the grid count as one that is independent: blur, JPEG and the tile's own faults (as came out)."""


@dataclass(frozen=True, eq=False)
class Compared:
    """The places, how alike (N,) each window is to the tile, and the photograph laid out as the piece.

    ``values`` and ``trust`` (along, across) begin at piece place ``low`` with ``per_in`` lines an inch.
    """

    places: Places
    alike: Array
    values: Picture
    trust: Picture
    low: Array
    per_in: float

    def grid(self) -> Array:
        """The piece places (along, across, 2) of the points of ``values``."""
        return piece_grid(self.low, self.values.shape, self.per_in)


def piece_grid(low: Array, shape: tuple[int, ...], per_in: float) -> Array:
    """Piece places (along, across, 2) from ``low`` on."""
    along, across = low[0] + np.arange(shape[0]) / per_in, low[1] + np.arange(shape[1]) / per_in
    return np.stack(np.meshgrid(along, across, indexing="ij"), axis=-1)


def laid_out(flat: Flat, values: Picture, fit: PrintFit) -> tuple[Picture, Picture, Array]:
    """``values`` of the flat photograph and its trust as the piece has them, and where (2,) they begin."""
    piece = fit.to_piece(flat.corners)
    low, high = piece.min(axis=0), piece.max(axis=0)
    low[1], high[1] = 0.0, fit.lattice.width_in
    rows, columns = (int(n) + 1 for n in np.ceil((high - low) * flat.per_in))
    places = on_grid(lambda at: fit.to_table(at[:, ::-1]), low[::-1], flat.per_in, (rows, columns))
    laid, trust = flat.at(places, values, flat.trust)
    return laid, trust, low


def compared(flat: Flat, values: Picture, tile: Tile, fit: PrintFit) -> Compared:
    """The print compared with the tile (one channel) under the map so far; ``values`` (rows, columns) of ``flat``."""
    per_in = flat.per_in
    laid, trust, low = laid_out(flat, values, fit)
    grid = piece_grid(low, laid.shape, per_in)
    wanted = tile.at(grid)[..., 0]
    across = low[1] + np.arange(laid.shape[1]) / per_in
    trust = trust * ((across > EDGE_IN) & (across < fit.lattice.width_in - EDGE_IN)).astype(np.float32)
    window = WINDOW_IN * per_in
    held: Picture = np.asarray(np.maximum(blurred(trust, SMOOTH_PLACES), 1e-4), np.float32)
    seen: Picture = np.asarray(blurred(laid * trust, SMOOTH_PLACES) / held, np.float32)
    drawn = blurred(wanted, SMOOTH_PLACES)
    trust = trust * (trust > 0.05)
    weight = np.maximum(window_sums(trust, window), np.float32(1e-5))
    seen = even(seen, trust, weight, window)[0]
    drawn, contrast = even(drawn, trust, weight, window)
    alike = window_sums(trust * seen * drawn, window) / weight
    left: Picture = np.asarray(seen - spread_out(np.clip(alike, 0.05, 1), seen.shape) * drawn, np.float32)
    # What is under a hand or a weight is unlike by far: it pulls less.
    spread = np.sqrt(np.maximum(window_sums(trust * left * left, window) / weight, 1e-4))
    sure = trust / (1 + (left / (2.5 * spread_out(spread, seen.shape))) ** 2)
    at = _windows(trust.shape, weight, per_in)

    pair = Pair(seen, drawn, left, np.asarray(sure, np.float32), per_in, window, INDEPENDENT)
    moved, knows = moves(pair, at, (0, 1))
    piece = low + (COARSER * at + (COARSER - 1) / 2) / per_in
    table = fit.to_table(piece + moved)
    height = at_middles(np.asarray(alike, np.float32), at)
    good = (at_middles(weight, at) > LEAST_SEEN * float(np.quantile(weight, 0.98))) & (height > LEAST_ALIKE)
    good &= (np.linalg.norm(moved, axis=1) < FARTHEST_IN) & (at_middles(contrast, at) > LEAST_CONTRAST)
    places = Places(piece[good], table[good], _in_table_axes(knows, fit)[good])
    return Compared(places, height[good], seen, trust, low, per_in)


def _windows(shape: tuple[int, ...], weight: Picture, per_in: float) -> NDArray[np.intp]:
    """Middles (N, 2) of windows on the coarse grid, evenly over what is seen."""
    rows, columns = shape
    step = max(1.6 * WINDOW_IN * per_in, np.sqrt(rows * columns / MOST_WINDOWS))
    at = middles(shape, step)
    return at[weight[at[:, 0], at[:, 1]] > 1e-3]


def _in_table_axes(knows: Array, fit: PrintFit) -> Array:
    """Inverse covariances (N, 2, 2) of moves on the piece as those on the table."""
    to_piece = np.linalg.inv(fit.matrix[:, :2])
    return np.asarray(np.einsum("ji,njk,kl->nil", to_piece, knows, to_piece))
