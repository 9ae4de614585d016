"""A second photograph in even light, taken by hand from nearly the same place: brought onto the one with the pattern.

One camera took both, so its lens bends both alike, and what lies flat on the table is seen in the second as in the
first after one plane map of the table onto itself. That map is sought about no movement at all: first on the whole
picture made small (``movement``), then window by window (B. Lucas and T. Kanade, IJCAI 1981), as far as the first
photograph, freed of its light, shows the cloth.

A movement that is wrong by whole repeats shows the same print at the same places: rows and columns are counted by the
first photograph alone. One that is wrong otherwise is found out, for the mean repeat of the first photograph must lie
where the second has the print.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.laying.aligning import shows_pattern
from calibration.laying.camera import PhotoMap
from calibration.laying.flattening import Flat, Sheet
from calibration.laying.grids import COARSER, blurred, spread_out, window_sums
from calibration.laying.movement import BESIDE_IN, laid_as, starts
from calibration.laying.windows import Pair, at_middles, even, middles, moves
from calibration.photographs.pattern import Pattern
from calibration.problems import Code, PhotographRefused, problem

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Rgb = NDArray[np.uint8]

BLURS_IN = (0.3, 0.16, 0.08, 0.05)
WINDOW_IN = 2.2
FARTHEST_IN = 0.6
LEAST_SEEN, LEAST_ALIKE = 0.15, 0.2
LEAST_WINDOWS, LEAST_SHARE = 20, 0.5
"""So many windows, and this share of those that are seen, must agree on where the second photograph was taken."""
INDEPENDENT = 70.0
"""So many points of the grid count as one that is independent (as came out: neighbours err together, where light was
not divided out wholly)."""
NORMAL_MAD, FARTHEST = 1.4826, 3.5
ROUNDS = 10


@dataclass(frozen=True, eq=False)
class Second:
    """Where the second photograph sees the inches of the table: as ``first`` sees those of ``plane`` (3, 3) of them.

    ``known`` (8, 8) is the covariance of the plane map's numbers, in extents of what the first was fitted to;
    ``agreed`` how many windows tell it, ``share`` of those that were seen, ``sigma_in`` how far they are off it.
    """

    first: PhotoMap
    plane: Array
    known: Array
    agreed: int
    share: float
    sigma_in: float

    @classmethod
    def at(cls, first: PhotoMap, plane: Array) -> Second:
        """One that is only supposed: nothing tells it."""
        return cls(first, plane, np.zeros((8, 8)), 0, 0.0, 0.0)

    def is_a_view(self, flat: Flat) -> bool:
        """Whether all that is looked at lies before a camera, with a margin."""
        (x, y), (to_x, to_y) = flat.low - BESIDE_IN, flat.high + BESIDE_IN
        ahead = np.array([(x, y, 1), (to_x, y, 1), (to_x, to_y, 1), (x, to_y, 1)]) @ self.plane[2]
        return bool(ahead.min() > 0.3 * ahead.max())

    def to_picture(self, table_in: Array) -> Array:
        """Pixels (N, 2) of table places (N, 2)."""
        return self.first.to_picture(homography.apply(self.plane, table_in))

    def slopes_in(self, table_in: Array) -> Array:
        """How table places (N, 2) hang on what the first's map and this one's do not know: (N, 2, 20)."""
        near = (table_in - self.first.origin) / self.first.extent_in
        own = self.first.extent_in * _slopes(_near_plane(self.plane, self.first), near)
        return np.concatenate([self.first.slopes_in(table_in), own], axis=2)

    @property
    def covariance(self) -> Array:
        """The covariance (20, 20) of the numbers of ``slopes_in``."""
        size = len(self.first.covariance)
        both = np.zeros((size + 8, size + 8))
        both[:size, :size], both[size:, size:] = self.first.covariance, self.known
        return both


def second_seen(white: Rgb, pattern: Pattern, first: PhotoMap, flat: Flat, weights: Array) -> tuple[Second, Flat]:
    """Where the second photograph (height, width, 3) was taken from, and it laid out as ``flat``, the first, is.

    ``weights`` (3,): the mixture of channels in which the print shows. Raises ``PhotographRefused`` for one of another
    size, for one of the ``pattern``, and for one in which what the first shows is not to be found nearby.
    """
    size = white.shape[1], white.shape[0]
    if size != first.size_px:
        raise PhotographRefused(problem(("white",), Code.OTHER_SIZE))
    if shows_pattern(white, pattern):
        raise PhotographRefused(problem(("white",), Code.PATTERN_LIT))
    sheet = Sheet.of(white, first.dense_per_in)
    begun = (Second.at(first, plane) for plane in starts(sheet, first, flat))
    found = [_compared(sheet, flat, start, weights, BLURS_IN[0]) for start in begun if start.is_a_view(flat)]
    best = max(found, key=lambda one: one.agreed, default=Second.at(first, np.eye(3)))
    for blur in BLURS_IN[1:]:
        if best.agreed >= LEAST_WINDOWS:
            best = _compared(sheet, flat, best, weights, blur)
    if best.agreed < LEAST_WINDOWS or best.share < LEAST_SHARE:
        raise PhotographRefused(problem(("white",), Code.OTHER_VIEW))
    values, seen = laid_as(sheet, best.to_picture, flat)
    trust = np.asarray(seen * (flat.within > 0), np.float32)
    return best, replace(flat, values=values, trust=trust, sound=seen)


def _near_plane(plane: Array, first: PhotoMap) -> Array:
    """A plane map of the table (3, 3) in extents about the first's origin, its last number 1."""
    near = _to_near(first) @ plane @ np.linalg.inv(_to_near(first))
    return np.asarray(near / near[2, 2])


def _to_near(first: PhotoMap) -> Array:
    """The plane map (3, 3) from inches of the table to extents about the first's origin."""
    (x, y), extent = first.origin.tolist(), first.extent_in
    return np.array([[1 / extent, 0, -x / extent], [0, 1 / extent, -y / extent], [0, 0, 1]])


def _slopes(plane: Array, near: Array) -> Array:
    """How (N, 2, 8) places (N, 2) under a plane map hang on its first eight numbers."""
    x, y = near.T
    flat = homography.apply(plane, near)
    w = near @ plane[2, :2] + plane[2, 2]
    one, none = np.ones_like(x), np.zeros_like(x)
    rows = [
        np.stack([x, y, one, none, none, none, -flat[:, 0] * x, -flat[:, 0] * y], -1),
        np.stack([none, none, none, x, y, one, -flat[:, 1] * x, -flat[:, 1] * y], -1),
    ]
    return np.asarray(np.stack(rows, axis=1) / w[:, None, None])


def _compared(sheet: Sheet, flat: Flat, start: Second, weights: Array, blur_in: float) -> Second:
    """The plane map by windows all over the first photograph, from one that is nearly it; one that nothing agrees on
    where they tell none."""
    laid, seen = laid_as(sheet, start.to_picture, flat)
    one, other = (np.asarray(picture @ weights.astype(np.float32), np.float32) for picture in (flat.values, laid))
    places, moved, knows, count = _windows(flat, one, (other, seen), blur_in)
    if len(places) < LEAST_WINDOWS:
        return Second.at(start.first, start.plane)
    found = _fitted(start, (places, places + moved, knows), count)
    return found if found.is_a_view(flat) else Second.at(start.first, np.eye(3))


def _windows(
    flat: Flat, values: Picture, second: tuple[Picture, Picture], blur_in: float
) -> tuple[Array, Array, Array, int]:
    """Places (N, 2) of windows, how far (N, 2) from there the second photograph, as laid out, shows what the first does
    there, how surely (N, 2, 2: inverse covariances), and how many windows are seen at all."""
    other, seen = second
    per_in, window = flat.per_in, WINDOW_IN * flat.per_in
    trust = np.asarray(flat.trust * seen, np.float32)
    held = np.maximum(blurred(trust, blur_in * per_in), np.float32(1e-4))
    one: Picture = np.asarray(blurred(values * trust, blur_in * per_in) / held, np.float32)
    two: Picture = np.asarray(blurred(other * trust, blur_in * per_in) / held, np.float32)
    trust = trust * (held > 0.05)
    weight = np.maximum(window_sums(trust, window), np.float32(1e-5))

    one, two = (even(picture, trust, weight, window)[0] for picture in (one, two))
    alike = window_sums(trust * one * two, window) / weight
    left = np.asarray(one - spread_out(np.clip(alike, 0.05, 1), one.shape) * two, np.float32)
    at = middles(trust.shape, 1.6 * window)
    back, knows = moves(Pair(one, two, left, trust, per_in, window, INDEPENDENT), at, (1, 0))
    moved = -back
    counted = at_middles(weight, at) > LEAST_SEEN
    good = counted & (at_middles(np.asarray(alike, np.float32), at) > LEAST_ALIKE)
    good &= np.linalg.norm(moved, axis=1) < FARTHEST_IN
    places = np.asarray(flat.low + (COARSER * at[:, ::-1] + (COARSER - 1) / 2) / per_in, np.float64)
    return places[good], np.asarray(moved[good], np.float64), knows[good], int(counted.sum())


def _fitted(start: Second, told: tuple[Array, Array, Array], count: int) -> Second:
    """The plane map through what windows tell: places (N, 2), where these lie under the map so far, and how surely."""
    first, plane = start.first, start.plane
    places, there, knows = told
    near, wanted = ((one - first.origin) / first.extent_in for one in (places, homography.apply(plane, there)))
    numbers = _near_plane(plane, first)
    scale, weights = 1.0, np.ones(len(near))
    knows = knows * first.extent_in**2
    for _ in range(ROUNDS):
        off = wanted - homography.apply(numbers, near)
        far = np.sqrt(np.einsum("ni,nij,nj->n", off, knows, off))
        scale = max(float(np.median(far)) / 1.18, 1e-6)
        weights = 1 / (1 + (far / (2 * scale)) ** 2)
        slopes = _slopes(numbers, near)
        held = np.einsum("nip,nij->npj", slopes, knows) * weights[:, None, None]
        normal = np.einsum("npj,njq->pq", held, slopes) + 1e-9 * np.eye(8)
        step = np.linalg.solve(normal, np.einsum("npj,nj->p", held, off))
        numbers = numbers + np.append(step, 0.0).reshape(3, 3)
        if np.abs(step).max() < 1e-9:
            break
    agreed = far < FARTHEST * scale
    off_in = first.extent_in * np.abs(off[agreed])
    fitted = np.linalg.inv(_to_near(first)) @ numbers @ _to_near(first)
    known = np.linalg.inv(normal) * max(scale, 1.0) ** 2
    sigma = NORMAL_MAD * float(np.median(off_in))
    return Second(first, fitted / fitted[2, 2], known, int(agreed.sum()), float(agreed.sum() / max(count, 1)), sigma)
