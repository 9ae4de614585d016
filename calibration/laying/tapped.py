"""The print where nobody has photographed a repeat of it: one motif is pointed at, and its surroundings are the repeat.

What lies around the motif that was tapped, a repeat each way, is sought again over all of the cloth; the mean of what
was found is a better picture of the repeat, and is sought once more. Rows are then counted from motifs like the tapped
one. What cannot be told so is whether it is the right cloth, side or way: there is nothing to compare it with.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from calibration.laying.camera import PhotoMap
from calibration.laying.flattening import Flat
from calibration.laying.grids import on_grid
from calibration.laying.recognising import Repeat, mean_repeat
from calibration.laying.tile import Tile
from calibration.registration.fit import PrintFit

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Place = tuple[float, float]

AROUND = 1.5
"""Repeats each way about the motif whose mean is the first picture: further off the planned lattice is too far out."""
FINE = 160
"""Points along the longer side of the mean of all."""
SEEN = 0.1
STEPS = 8


def place_of(pixel: Place, camera: PhotoMap) -> Array:
    """The place (2,) on the table that a pixel of the photograph, counted from its corner, shows."""
    place = camera.places[np.linalg.norm(camera.to_picture(camera.places) - pixel, axis=1).argmin()]
    for _ in range(STEPS):
        off = np.asarray(pixel) - camera.to_picture(place[None])[0]
        place = place + np.linalg.solve(camera.px_per_in(place[None])[0], off)
    return np.asarray(place)


def counted_from(place: Array, carried: PrintFit) -> PrintFit:
    """The map as it is carried, slid so that the motif point nearest to a place of the table (2,) lies there."""
    at = (float(place[0]), float(place[1]))
    expected = carried.expected(carried.nearest_motif(at))
    (x, y), (dx, dy) = carried.shift, np.subtract(at, expected).tolist()
    return replace(carried, shift=(x + dx, y + dy))


def tile_about(flat: Flat, values: Picture, place: Array, fit: PrintFit) -> Tile:
    """One repeat, in one channel, as it lies about a motif (2,) of the table that ``fit`` has there."""
    lattice = fit.lattice
    reach = AROUND * np.array([lattice.along_in, lattice.across_in])
    middle = fit.to_piece(place[None])[0]
    piece = on_grid(fit.to_piece, flat.low, flat.per_in, (values.shape[0], values.shape[1]))
    near = (np.abs(piece - middle) < reach).all(axis=2)
    around = mean_repeat(replace(flat, trust=flat.trust * near.astype(np.float32)), values, fit)
    return Tile(_seen(around)[..., None], around.lattice)


def tile_of_all(flat: Flat, fit: PrintFit) -> Tile:
    """The repeat in all channels, by the mean of all that were seen under this map: what is kept for photographs to
    come, so that they count rows from the very same point."""
    channels = [_seen(mean_repeat(flat, flat.values[..., channel], fit, FINE)) for channel in range(3)]
    return Tile(np.stack(channels, axis=-1), fit.lattice)


def _seen(repeat: Repeat) -> Picture:
    """Its values; points that nothing was seen of are as the mean of the others."""
    seen = repeat.trust > SEEN
    mean = float(repeat.values[seen].mean()) if seen.any() else 0.0
    return np.where(seen, repeat.values, np.float32(mean)).astype(np.float32)
