"""Where the corners of the pattern are in a photograph: first by its codes, then each where those say it must be.

Codes are read where the table lets them; over a bold print many are not, and a corner needs none of its own: a few
that are read tell to some pixels where every corner is. There it is looked for, and believed where two fields across
from each other are brighter than the two beside them, as the pattern has it. None is taken for seen that was not.
OpenCV counts pixel centres as whole numbers, all others here count from the picture's corner: half a pixel is added.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.pattern import CODE_MODULES, MODULES, Pattern

Array = NDArray[np.float64]
Grey = NDArray[np.uint8]

LEAST_CODES = 4
"""Codes that must agree on where the pattern is, before corners are looked for."""
BENDS = np.linspace(-0.15, 0.15, 31)
"""First radial terms of a camera's lens that are tried, in half diagonals of the picture."""
AGREE_SHARE = 0.25
"""Corners of codes that are this share of a field off a plane map are misread ones."""
WIDE_SHARE, CLOSE_SHARE, FARTHEST_SHARE = 0.2, 0.12, 0.15
"""In shares of a field: half the window around a corner, first and last; how far it may be from where others say."""
NEIGHBOURS = 8
LIT_MORE, GAMMA = 1.4, 2.2
"""Beside a corner lit fields are brighter than dark ones by this factor, each for each (a setting); how pictures keep
light (IEC 61966-2-1, nearly)."""
BESIDE_SHARES = (0.06, 0.13)
"""Where beside a corner that is looked at: into each field, in shares of it."""


@lru_cache(maxsize=1)
def _dictionary() -> Any:
    """The codes in use: OpenCV's own, five by five."""
    import cv2

    return cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_250)


def code_bits(number: int) -> NDArray[np.uint8]:
    """The code of this number with its black rim, (7, 7) of 0 and 1."""
    import cv2

    return np.asarray(cv2.aruco.generateImageMarker(_dictionary(), number, CODE_MODULES) // 255, np.uint8)


def corners_in(grey: Grey, pattern: Pattern) -> tuple[NDArray[np.intp], Array]:
    """Numbers (N,) of the corners that a photograph (height, width) shows, and their pixels (N, 2); none where it shows
    no pattern."""
    height, width = grey.shape
    places, pixels = codes_in(grey, pattern)
    if len(places) < 4 * LEAST_CODES:  # codes are unreadable where a mirror swaps left and right
        places, pixels = codes_in(np.ascontiguousarray(grey[:, ::-1]), pattern)
        pixels = (width, 0) - pixels * (1, -1)
    none = np.zeros(0, np.intp), np.zeros((0, 2))
    if len(places) < 4 * LEAST_CODES:
        return none
    middle, reach = np.array([width, height]) / 2, float(np.hypot(width, height)) / 2
    guess = _expected(places, (pixels - middle) / reach, pattern)
    if guess is None:
        return none
    return _sought(grey, guess * reach + middle, pattern)


def codes_in(grey: Grey, pattern: Pattern) -> tuple[Array, Array]:
    """Corners (N, 2) of the codes that are read, in the frame, and their pixels (N, 2)."""
    import cv2

    found, numbers, _ = cv2.aruco.ArucoDetector(_dictionary()).detectMarkers(grey)
    side, module = pattern.side_px, pattern.side_px // MODULES
    first, last = (side - CODE_MODULES * module) // 2, (side - CODE_MODULES * module) // 2 + CODE_MODULES * module
    around = np.array([(first, first), (last, first), (last, last), (first, last)])
    named = [] if numbers is None else [int(number) for number in numbers.ravel()]
    read = {number: four for number, four in zip(named, found, strict=True) if number < len(pattern.white_fields)}
    places = [around + np.array(pattern.corner_of(*pattern.white_fields[number])) for number in read]
    pixels = np.array(list(read.values()), np.float64) + 0.5
    return np.array(places, np.float64).reshape(-1, 2), pixels.reshape(-1, 2)


def _expected(places: Array, seen: Array, pattern: Pattern) -> Array | None:
    """Where (N, 2) all corners of the pattern must be, counted as ``seen`` is: in half diagonals from the middle.

    None where codes contradict each other.
    """
    import cv2

    best: tuple[float, Array, float] | None = None
    r2 = (seen * seen).sum(axis=1)[:, None]
    for bend in BENDS.tolist():
        plane, _ = cv2.findHomography(places, seen * (1 + bend * r2), cv2.LMEDS)
        if plane is None:
            continue
        off = cv2.perspectiveTransform(places[None], plane)[0] - seen * (1 + bend * r2)
        missed = float(np.median(np.linalg.norm(off, axis=1)))
        if best is None or missed < best[0]:
            best = missed, np.asarray(plane, np.float64), bend
    if best is None:
        return None
    _, plane, bend = best
    field = pattern.side_px * np.array([(0.0, 0.0), (1.0, 0.0)]) + np.median(places, axis=0)
    side = float(np.linalg.norm(np.diff(cv2.perspectiveTransform(field[None], plane)[0], axis=0)))
    off = cv2.perspectiveTransform(places[None], plane)[0] - seen * (1 + bend * r2)
    if (np.linalg.norm(off, axis=1) < AGREE_SHARE * side).sum() < 4 * LEAST_CODES:
        return None
    straight = cv2.perspectiveTransform(pattern.corners_px[None], plane)[0]
    bent = straight.copy()
    for _ in range(20):
        bent = straight / (1 + bend * (bent * bent).sum(axis=1)[:, None])
    return np.asarray(bent, np.float64)


def _sought(grey: Grey, guess: Array, pattern: Pattern) -> tuple[NDArray[np.intp], Array]:
    """The corners that are seen near where they must be: looked for twice, the second time where the first ones say."""
    import cv2

    across, down = _steps(guess, pattern)
    sides = np.minimum(np.linalg.norm(across, axis=1), np.linalg.norm(down, axis=1))
    smooth = np.asarray(cv2.GaussianBlur(grey, (0, 0), 1.0), np.uint8)
    at, seen = guess, np.zeros(len(guess), bool)
    for share in (WIDE_SHARE, CLOSE_SHARE):
        inside = np.flatnonzero(
            ((at > 0.3 * sides[:, None]) & (at < np.array(grey.shape[::-1]) - 0.3 * sides[:, None])).all(axis=1)
        )
        found = np.full_like(guess, np.nan)
        for number in inside.tolist():
            half = int(np.clip(share * sides[number], 2, 40))
            found[number] = cv2.cornerSubPix(
                grey,
                (at[number] - 0.5).astype(np.float32).reshape(1, 1, 2),
                (half, half),
                (-1, -1),
                (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 40, 0.003),
            ).reshape(2)
        found += 0.5
        seen = np.isfinite(found[:, 0]) & _alternate(smooth, found, across, down, pattern)
        if seen.sum() < 4 * LEAST_CODES:
            return np.zeros(0, np.intp), np.zeros((0, 2))
        at = guess + _as_neighbours(found - guess, seen, pattern)
    near = np.zeros(len(guess), bool)
    near[seen] = np.linalg.norm(found[seen] - at[seen], axis=1) < np.maximum(FARTHEST_SHARE * sides[seen], 1.5)
    return np.flatnonzero(near), found[near]


def _steps(guess: Array, pattern: Pattern) -> tuple[Array, Array]:
    """The sides (N, 2) of a field at each corner, across and down the frame, in the picture."""
    grid = guess.reshape(pattern.rows - 1, pattern.columns - 1, 2)
    across, down = np.asarray(np.gradient(grid, axis=1)), np.asarray(np.gradient(grid, axis=0))
    return across.reshape(-1, 2), down.reshape(-1, 2)


def _alternate(smooth: Grey, at: Array, across: Array, down: Array, pattern: Pattern) -> NDArray[np.bool_]:
    """At which corners (N,) the four fields are bright and dark as the pattern has them."""
    rows, columns = np.divmod(np.arange(len(at)), pattern.columns - 1)
    # The field at the upper left of corner (column, row) is the field of that column and row.
    white_first = (columns + rows) % 2 == 1
    levels = []
    for right, low in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        places = [at + share * (right * across + low * down) for share in BESIDE_SHARES]
        levels.append(np.mean([_values(smooth, place) for place in places], axis=0))
    pairs = np.array(levels)
    falling, rising = pairs[[0, 2]], pairs[[1, 3]]
    bright, dark = np.where(white_first, falling, rising), np.where(white_first, rising, falling)
    # An edge of the print along a side of the fields takes as much from a bright one as from a dark one.
    more = bright.prod(axis=0) > LIT_MORE ** (2 / GAMMA) * dark.prod(axis=0)
    return np.asarray(more & (bright.min(axis=0) > dark.max(axis=0)))


def _values(smooth: Grey, places: Array) -> Array:
    """Values (N,) at places (N, 2) of a picture; those beyond it count as nothing."""
    u, v = np.where(np.isfinite(places), places, -1).astype(int).T
    inside = np.asarray((u >= 0) & (v >= 0) & (u < smooth.shape[1]) & (v < smooth.shape[0]))
    values = np.zeros(len(places))
    values[inside] = smooth[v[inside], u[inside]]
    return values


def _as_neighbours(off: Array, seen: NDArray[np.bool_], pattern: Pattern) -> Array:
    """How far (N, 2) each corner must be off the guess as the nearest others (median) that are seen are off."""
    places = pattern.corners_px
    known = np.flatnonzero(seen)
    apart = np.linalg.norm(places[:, None] - places[known][None], axis=2)
    apart[known, np.arange(len(known))] = np.inf
    nearest = np.argsort(apart, axis=1)[:, :NEIGHBOURS]
    return np.asarray(np.median(off[known][nearest], axis=1))
