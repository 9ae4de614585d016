"""Whether the cloth wears the print of the job, and which way it lies: by the mean of all repeats that were seen.

In the mean of many repeats what the light, the camera and the cloth's unevenness do to each is gone; the right print
is then as good as the same as its picture, another one is not, though it have the same repeat.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.laying.flattening import Flat
from calibration.laying.grids import on_grid, slow_level
from calibration.laying.seeking import matched, peak
from calibration.laying.tile import Tile, Way
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

POINTS = 40
"""Points along the longer side of the mean repeat."""
LEAST_ALIKE = 0.7
"""A print less like its picture than this is another one (of twelve rendered ones the right one had 0.98 at least,
others 0.46 at most)."""
CLEARLY = 0.03
"""A cloth lies otherwise than planned where that is by so much more alike."""
OF_OWN, SAME = 0.2, 0.01
"""A print that is hardly another lying otherwise is told apart by this share of what it differs from itself; one that
differs by less than the second is taken to be the same."""
INNER_IN = 1.0
LEAST_SLOW_IN = 8.0


@dataclass(frozen=True, eq=False)
class Repeat:
    """The mean repeat (along, across) about the motif point, and how much (0 to 1) of the cloth each point is of."""

    values: Picture
    trust: Picture
    lattice: PrintLattice

    def places(self, margin: int = 0) -> Array:
        """Piece places (along + 2 margin, across + 2 margin, 2) of its points, about motif 0, 0."""
        lattice = self.lattice
        lines, columns = self.values.shape
        along = ((np.arange(-margin, lines + margin) + 0.5) / lines - 0.5) * lattice.along_in
        across = ((np.arange(-margin, columns + margin) + 0.5) / columns - 0.5) * lattice.across_in
        grid = np.stack(np.meshgrid(along, across, indexing="ij"), axis=-1)
        return np.asarray(grid + np.array([lattice.first_row_in, lattice.first_column_in]))


def mean_repeat(flat: Flat, values: Picture, fit: PrintFit, points: int = POINTS) -> Repeat:
    """The mean of all repeats in ``values`` (rows, columns) of the flat photograph, under this map.

    ``points`` along the longer side of the repeat.
    """
    lattice = fit.lattice
    longest = max(lattice.along_in, lattice.across_in)
    lines, columns = (max(8, round(points * side / longest)) for side in (lattice.along_in, lattice.across_in))
    piece = on_grid(fit.to_piece, flat.low, flat.per_in, (values.shape[0], values.shape[1]))
    inside = (piece[..., 1] > INNER_IN) & (piece[..., 1] < lattice.width_in - INNER_IN)
    trust = np.asarray(flat.trust * flat.sure * inside, np.float32)  # beside lies the floor, which differs most
    # Light that changes slowly over the table does so otherwise in each repeat: of a faint print it would be the most.
    values = values - slow_level(values, trust, max(longest, LEAST_SLOW_IN) * flat.per_in)
    along, across, used = piece[..., 0].ravel(), piece[..., 1].ravel(), trust.ravel()
    right = (across - lattice.first_column_in) / lattice.across_in + 0.5
    column = np.floor(right)
    down = (along - lattice.first_row_in) / lattice.along_in - column * lattice.drop + 0.5
    line = np.minimum(((down - np.floor(down)) * lines).astype(int), lines - 1)
    at = line * columns + np.minimum(((right - column) * columns).astype(int), columns - 1)
    total = np.bincount(at, used, lines * columns)
    mean = np.bincount(at, used * values.ravel(), lines * columns) / np.maximum(total, 1e-9)
    trust = np.minimum(total / max(float(np.median(total)), 1e-9), 1)
    shape = lines, columns
    return Repeat(mean.reshape(shape).astype(np.float32), trust.reshape(shape).astype(np.float32), lattice)


def alikeness(repeat: Repeat, tile: Tile, *, anywhere: bool) -> float:
    """How like the mean repeat is to a tile (one channel): where it should lie, or at the place it is most like it."""
    lines, columns = repeat.values.shape
    per_in = min(lines / repeat.lattice.along_in, columns / repeat.lattice.across_in)
    small = tile.sized(1.2 * per_in)
    margin = max(lines, columns) // 2 + 1 if anywhere else 1
    around = small.at(repeat.places(margin))[..., 0]
    return peak(matched(repeat.values, repeat.trust, around)[0])[2]


def alike_ways(repeat: Repeat, tile: Tile, way: Way) -> dict[Way, float]:
    """How like the mean repeat is to the tile as it was taken to lie, and lying otherwise."""
    return {one: alikeness(repeat, tile.lying(one), anywhere=one is not way) for one in Way}


def margins(tile: Tile) -> dict[Way, float]:
    """By how much more alike than as planned a cloth must be lying each other way, to lie so: ``tile`` (one channel) is
    its print.

    A dot with a dent, face down, is 0.98 like itself: no more there is to see of it, and half of that in a photograph.
    """
    lattice = tile.lattice
    longest = max(lattice.along_in, lattice.across_in)
    lines, columns = (max(8, round(POINTS * side / longest)) for side in (lattice.along_in, lattice.across_in))
    empty = np.ones((lines, columns), np.float32)
    small = tile.sized(1.2 * min(lines / lattice.along_in, columns / lattice.across_in))
    own = Repeat(small.at(Repeat(empty, empty, lattice).places())[..., 0], empty, lattice)
    apart = {way: 1 - alikeness(own, tile.lying(way), anywhere=True) for way in Way if way is not Way.RIGHT}
    return {way: CLEARLY if much < SAME else min(CLEARLY, OF_OWN * much) for way, much in apart.items()}


def way_of(alike: dict[Way, float], margins: dict[Way, float]) -> Way:
    """How a cloth lies by how like its print is to the job's each way: as planned, where nothing speaks against it."""
    against = [way for way, much in margins.items() if alike[way] > alike[Way.RIGHT] + much]
    best = max((alike[way] for way in against), default=0.0)
    return next((way for way in against if alike[way] > best - CLEARLY), Way.RIGHT)
