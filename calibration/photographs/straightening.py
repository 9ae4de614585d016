"""A photograph of the lit pattern straightened, by the pattern itself, to the inches that a calibration gives."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.photographs.pattern import Pattern
from calibration.photographs.sighting import Sighting
from calibration.table import Table

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Grey = NDArray[np.uint8]

EDGE_SHARE = 0.14
"""Of a dark field its rim, this share of its side, is left out: lenses spread the light of its neighbours."""
GAMMA = 2.2
"""How pictures keep light (IEC 61966-2-1, nearly)."""
SLOW_IN = 2.0
"""What changes over more than this is room light, not the table."""
STRAIGHT_IN, STRAIGHT_PX = 0.008, 0.5
"""How far off a photograph is straightened, at best and by its pixels (settings; as rendered ones came out)."""


@dataclass(frozen=True, eq=False)
class Seen:
    """A photograph (height, width), 0 to 255, and what it saw of the pattern."""

    grey: Grey
    sighting: Sighting


class Grid:
    """Places of the table, so many an inch, in rows from its near side on."""

    def __init__(self, low: Array, high: Array, per_in: float) -> None:
        self.per_in = per_in
        self.x, self.y = (np.arange(a, b, 1 / per_in) for a, b in zip(low, high, strict=True))
        self.places = np.stack(np.meshgrid(self.x, self.y), axis=-1)
        self.near = (self.places - (low + high) / 2) / ((high - low) / 2)
        self.aspect = float((high - low)[0] / (high - low)[1])


@dataclass(frozen=True, eq=False)
class Straight:
    """``light`` (rows, columns) and, for what does not hang on the room, how much it differs from what is around.

    ``tells`` where (0 or 1) it is looked at, ``fineness_in`` how far off it may be straightened.
    """

    light: Picture
    values: Picture
    tells: Picture
    fineness_in: float


def straightened(seen: Seen, table: Table, pattern: Pattern, grid: Grid) -> Straight:
    """A photograph laid out in table inches by the pattern in it, as the calibration has that."""
    import cv2

    pixels = _camera(seen.sighting, table, pattern)(grid.places.reshape(-1, 2)).reshape(grid.places.shape)
    dense = float(np.median(np.linalg.norm(np.diff(pixels, axis=1), axis=2)))
    # Worked out in light, not in its logarithm or in a picture's values: there a soft edge keeps its place.
    linear = ((np.arange(256) / 255) ** GAMMA).astype(np.float32)[seen.grey]
    smooth = cv2.GaussianBlur(linear, (0, 0), max(0.6, 0.5 * dense))
    at = (pixels - 0.5).astype(np.float32)  # OpenCV counts the middles of pixels
    light = cv2.remap(smooth, at[..., 0], at[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    inside = ((pixels > 2) & (pixels < np.array(seen.grey.shape[::-1]) - 2)).all(axis=2)
    tells = (inside & _plain(grid.places, table, pattern)).astype(np.float32)
    wide, fineness = SLOW_IN * grid.per_in, max(STRAIGHT_IN, STRAIGHT_PX / (dense * grid.per_in))
    slow = cv2.GaussianBlur(light * tells, (0, 0), wide) / np.maximum(cv2.GaussianBlur(tells, (0, 0), wide), 1e-3)
    bright = max(float(np.median(light[tells > 0])), 1e-4) if tells.any() else 1.0
    return Straight(
        np.asarray(light / bright, np.float32), np.clip(light / np.maximum(slow, 1e-4) - 1, -1, 1), tells, fineness
    )


def _camera(saw: Sighting, table: Table, pattern: Pattern) -> Callable[[Array], Array]:
    """From table inches (N, 2) to pixels of the photograph: a plane map with two radial terms about its middle."""
    from scipy.optimize import least_squares  # only where photographs are compared: it takes long to load

    places = table.to_table(pattern.corners_px[saw.numbers])
    seen = (saw.pixels - saw.middle_px) / saw.long_px

    def bent(values: Array, at: Array) -> Array:
        flat = homography.apply(np.append(values[:8], 1.0).reshape(3, 3), at - origin)
        r2 = (flat * flat).sum(axis=1)[:, None]
        return np.asarray(flat * (1 + r2 * (values[8] + values[9] * r2)))

    origin = places.mean(axis=0)
    start = homography.estimate(places - origin, seen)
    first = np.append((start / start[2, 2]).ravel()[:8], (0.0, 0.0))
    sigma = 1.0 / saw.long_px

    def missed(values: Array) -> Array:
        return np.append((bent(values, places) - seen).ravel() / sigma, values[8:] / 0.2)

    found = least_squares(missed, first, x_scale=np.maximum(np.abs(first), 1e-4), loss="soft_l1", max_nfev=60)
    return lambda at: saw.middle_px + saw.long_px * bent(found.x, at)


def _plain(places: Array, table: Table, pattern: Pattern) -> NDArray[np.bool_]:
    """Where on the table (rows, columns) no edge of light is: inside dark fields, and beside the board."""
    side, (left, top) = pattern.side_px, pattern.start_px
    flat = places.reshape(-1, 2)
    pixels = np.full_like(flat, -1e6)
    ahead = homography.denominators(table.matrix * table.side, flat) > 0
    pixels[ahead] = table.to_frame(flat[ahead])
    fields = (pixels - (left, top)) / side
    whole = np.floor(fields)
    within = np.abs(fields - whole - 0.5).max(axis=1) < 0.5 - EDGE_SHARE
    column, row = whole.T
    dark = (column + row) % 2 == 0
    for cross in pattern.cross_fields:
        dark &= (whole != cross).any(axis=1)
    size = np.array([pattern.columns, pattern.rows])
    beside = ((fields < -EDGE_SHARE) | (fields > size + EDGE_SHARE)).any(axis=1)
    on_board = ((fields >= 0) & (fields <= size)).all(axis=1)
    return np.asarray((beside | (on_board & within & dark)).reshape(places.shape[:2]))
