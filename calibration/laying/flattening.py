"""A photograph laid flat in table inches, freed of the light that fell on it: what is left is the cloth's own colour.

Light and cloth multiply: ``seen = cloth x room x (1 + r x level)``, with ``level`` the known share of full light at
each place and ``r`` how many times stronger the light is than the room, smooth over the table. Where the level jumps
and the cloth does not, the jump tells ``r``: log seen, freed of what changes slowly, is fitted by the level, likewise
freed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.laying.camera import PhotoMap
from calibration.laying.grids import blurred, on_grid, sampled
from calibration.laying.tile import DARKEST, GAMMA
from calibration.photographs.pattern import Pattern
from calibration.table import Table

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Rgb = NDArray[np.uint8]

FINEST_PER_IN, MOST_PLACES = 14.0, 1_800_000
MARGIN_IN = 3.0
"""So much beside the light is looked at, for the cloth's edges."""
NEAR_IN = 0.45
"""What changes over more than this is not taken for an edge of light."""
DEGREE = 3
SATURATED, SOFT = 0.96, 0.004
EDGE_PLACES, EDGE_SHARE = 1.6, 0.12
"""Places about an edge of light are left out, which lens and hand blur: about so many steps of the grid."""
ROOM_NOISE = 0.15
FAR_PX = -1e4


@dataclass(frozen=True, eq=False)
class Lit:
    """What was lit: the pattern, and the share of full light (height, width) of each pixel of its frame, 0 to 1."""

    pattern: Pattern
    levels: Picture


@dataclass(frozen=True, eq=False)
class Sheet:
    """A photograph ready to be laid out: ``light`` (height, width, 3), ``share`` of the pixels it had each way."""

    light: Picture
    share: Array
    size_px: Array

    @classmethod
    def of(cls, rgb: Rgb, dense_per_in: float) -> Sheet:
        """A photograph (height, width, 3), sRGB, with ``dense_per_in`` pixels an inch; no finer than is looked at."""
        import cv2

        share = min(1.0, 1.25 * FINEST_PER_IN / dense_per_in)
        small = rgb if share == 1 else cv2.resize(rgb, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
        light = ((np.arange(256) / 255) ** GAMMA).astype(np.float32)[small]
        size = np.array(rgb.shape[1::-1], float)
        return cls(
            np.asarray(cv2.GaussianBlur(light, (0, 0), 0.6), np.float32), np.array(small.shape[1::-1]) / size, size
        )

    def seen(self, pixels: Picture) -> tuple[Picture, NDArray[np.bool_]]:
        """Light (rows, columns, 3) at pixels (rows, columns, 2) of the photograph, and which are in it."""
        inside = ((pixels > 1) & (pixels < self.size_px - 1)).all(axis=2)
        at = pixels * self.share.astype(np.float32) - np.float32(0.5)  # OpenCV counts the middles of pixels
        return sampled(self.light, at), np.asarray(inside)


@dataclass(frozen=True, eq=False)
class Flat:
    """``values`` (rows, columns, 3), logarithms of the cloth's colour, and how far each is to be trusted, 0 to 1.

    Row i, column j is the table place ``low + (j, i) / per_in``. ``sure`` (rows, columns) is 1 between places where the
    light was seen: there it falls on the table and what lies on it; ``within`` a little beside as well.
    ``sound`` is 1 wherever the photograph shows something, but at edges of light.
    """

    low: Array
    per_in: float
    values: Picture
    trust: Picture
    sure: Picture
    within: Picture
    sound: Picture

    @property
    def high(self) -> Array:
        rows, columns = self.trust.shape
        return np.asarray(self.low + np.array([columns - 1, rows - 1]) / self.per_in)

    @property
    def corners(self) -> Array:
        """The corners (4, 2) on the table, around."""
        (x, y), (to_x, to_y) = self.low, self.high
        return np.array([(x, y), (to_x, y), (to_x, to_y), (x, to_y)])

    def at(self, table_in: NDArray[np.floating], *pictures: Picture) -> list[Picture]:
        """Pictures of this grid at table places (rows, columns, 2), nothing beyond the grid."""
        at = ((table_in - self.low) * self.per_in).astype(np.float32)
        return [sampled(one, at) for one in pictures]


def area_of(camera: PhotoMap, table: Table) -> tuple[Array, Array, float]:
    """The least and the greatest x and y (2,) that are looked at, where the pattern was seen and a little beside; and
    with how many places an inch."""
    light = table.lit_area()
    low, high = camera.places.min(axis=0), camera.places.max(axis=0)
    beside = 0.12 * (high - low) + MARGIN_IN
    low = np.maximum(light.min(axis=0) - MARGIN_IN, low - beside)
    high = np.minimum(light.max(axis=0) + MARGIN_IN, high + beside)
    per_in = min(FINEST_PER_IN, camera.dense_per_in, float(np.sqrt(MOST_PLACES / np.prod(high - low))))
    return low, high, per_in


def flattened(sheet: Sheet, camera: PhotoMap, table: Table, lit: Lit) -> Flat:
    """The photograph in table inches, its light divided out."""
    low, high, per_in = area_of(camera, table)
    columns, rows = (int(n) for n in np.ceil((high - low) * per_in))
    seen, inside = sheet.seen(on_grid(camera.to_picture, low, per_in, (rows, columns)))
    level, reach = levels_at(low, per_in, (rows, columns), table, lit)
    full = float(lit.levels.max())
    wider = blurred(level, EDGE_PLACES)
    edge = (4 * (wider / full) * (1 - wider / full) > EDGE_SHARE) & (np.abs(wider - level) > 0.02 * full)
    sound = inside & ~edge & (seen.max(axis=2) < SATURATED)
    near, within, between = _near(camera.places, low, per_in, (rows, columns))
    times = _light_by_room(seen, level, inside & (reach > 0) & near, per_in)
    much = 1 + times * level[..., None]
    cloth = seen / much
    bright = np.maximum(np.percentile(cloth[sound][::37], 97, axis=0), 1e-4) if sound.any() else np.ones(3)
    values = np.log(cloth / bright.astype(np.float32) + np.float32(DARKEST))
    share = (much / (1 + times)).mean(axis=2)
    trust = np.where(sound & within, share / (share + ROOM_NOISE), 0)
    where = (one.astype(np.float32) for one in (within, sound))
    return Flat(low, per_in, values.astype(np.float32), trust.astype(np.float32), between, *where)


def levels_at(low: Array, per_in: float, shape: tuple[int, int], table: Table, lit: Lit) -> tuple[Picture, Picture]:
    """The share of full light (rows, columns) on a grid of the table, a little blurred, and where the frame reaches."""

    def in_frame(places: Array) -> Array:
        pixels = np.full_like(places, FAR_PX)
        ahead = homography.denominators(table.matrix * table.side, places) > 0
        if table.lens is not None:
            ideal = homography.apply(table.matrix * table.side, places[ahead])
            ahead[ahead] = table.lens.reaches(ideal)
        pixels[ahead] = table.to_frame(places[ahead])
        return pixels

    pixels = on_grid(in_frame, low, per_in, shape)
    reach = ((pixels > 0) & (pixels < (lit.pattern.width_px, lit.pattern.height_px))).all(axis=2)
    return blurred(sampled(lit.levels, pixels - np.float32(0.5)), 0.9), np.asarray(reach, np.float32)


def _near(
    places: Array, low: Array, per_in: float, shape: tuple[int, int]
) -> tuple[NDArray[np.bool_], NDArray[np.bool_], Picture]:
    """Where (rows, columns) a corner of the light was seen nearby, what lies near or between such, and (0 or 1) what
    lies between them: elsewhere the light goes past the table."""
    import cv2

    at = np.rint((places - low) * per_in).astype(np.int32)
    apart = np.linalg.norm(places[:, None] - places[None], axis=2) + 1e6 * np.eye(len(places))
    reach = 0.8 * float(np.median(apart.min(axis=1))) * per_in
    alone, hull = np.ones(shape, np.uint8), np.ones(shape, np.uint8)
    for x, y in at.tolist():
        cv2.circle(alone, (x, y), 0, 0, -1)
    cv2.fillConvexPoly(hull, cv2.convexHull(at), 0)
    near, within = (np.asarray(cv2.distanceTransform(one, cv2.DIST_L2, 5)) < reach for one in (alone, hull))
    return near, within, (1 - hull).astype(np.float32)


def _light_by_room(seen: Picture, level: Picture, used: NDArray[np.bool_], per_in: float) -> Picture:
    """How many times stronger (rows, columns, 3) full light is than the room's, by a polynomial over the table."""
    sigma = NEAR_IN * per_in
    full = max(float(level.max()), 1e-6)
    jump = (level - blurred(level, sigma)) / full
    where = used & (np.abs(jump) > 0.15)
    where[::2] = False
    where[:, ::2] = False
    if where.sum() < 200:
        return np.zeros_like(seen)
    rows, columns = level.shape
    y, x = (2 * at / n - 1 for at, n in zip(np.nonzero(where), (rows, columns), strict=True))
    by, right = _powers(x, y), jump[where].astype(np.float64)
    slopes = by * right[:, None]
    found = []
    for channel in range(3):
        log = np.log(seen[..., channel] + np.float32(SOFT))
        left = (log - blurred(log, sigma))[where].astype(np.float64)
        weights = np.ones(len(left))
        for _ in range(3):
            normal = (slopes * weights[:, None]).T @ slopes + 1e-3 * np.eye(by.shape[1])
            numbers = np.linalg.solve(normal, (slopes * weights[:, None]).T @ left)
            off = left - slopes @ numbers
            weights = 1 / (1 + (off / (2 * max(float(np.median(np.abs(off))), 1e-3))) ** 2)
        found.append(numbers)
    every = np.array(found).T

    def times(places: Array) -> Array:
        return np.asarray(np.exp(np.clip(_powers(*(2 * places / (columns, rows) - 1).T) @ every, 0.0, 4.0)) - 1)

    return np.asarray(on_grid(times, np.zeros(2), 1.0, (rows, columns)) / full, np.float32)


def _powers(x: Array, y: Array) -> Array:
    return np.stack([x**a * y**b for a in range(DEGREE + 1) for b in range(DEGREE + 1 - a)], axis=-1)
