"""Roughly how a hand has moved between two photographs of one table: on both made small, by all that they show.

Shifts, turns and sizes are tried about none (correlation through Fourier transforms, what is hidden left out), then the
likeliest ones are followed to a plane map by a direct comparison (G. Evangelidis and E. Psarakis, IEEE Trans. Pattern
Analysis and Machine Intelligence 30, 2008; OpenCV's): edges of table and cloth settle it to a part of a repeat.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from calibration.laying.camera import PhotoMap
from calibration.laying.flattening import SATURATED, Flat, Sheet
from calibration.laying.grids import blurred, on_grid
from calibration.laying.seeking import matched
from calibration.laying.tile import DARKEST

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

COARSE_PER_IN = (1.0, 2.0, 4.0)
BESIDE_IN = 16.0
"""So far beside what is looked at the second photograph is laid out too: it may have been moved so far."""
SLOW_IN = 12.0
TURNS_DEG = (0.0, -2.0, 2.0, -4.0, 4.0, -6.0, 6.0)
SIZES = (1.0, 0.95, 1.05, 0.9, 1.1)
TRIED = 2
LEAST_HELD = 0.1
ROUNDS, SETTLED = 60, 1e-5


def starts(sheet: Sheet, first: PhotoMap, flat: Flat) -> list[Array]:
    """Plane maps (3, 3) of the table to begin with, the likeliest first."""
    import cv2

    large = _beside(flat)
    laid, seen = laid_as(sheet, first.to_picture, large)
    mine, others = (np.asarray(one.mean(axis=2), np.float32) for one in (flat.values, laid))
    found: list[tuple[float, Array]] = []
    for per_in in COARSE_PER_IN:
        one, one_trust = _small(mine, flat.sound, flat.per_in, per_in)
        other, other_trust = _small(others, seen, flat.per_in, per_in)
        sigma = SLOW_IN * per_in
        one, other = _level(one, one_trust, sigma), _level(other, other_trust, sigma)
        corner = (flat.low - large.low) * per_in
        if not found:
            found = _rough(one, one_trust, other, corner, per_in, flat.low)
        better = []
        for _, plane in found:
            # Pixels of the first's small picture from those of the second's.
            to_table = np.array([[1 / per_in, 0, flat.low[0]], [0, 1 / per_in, flat.low[1]], [0, 0, 1]])
            to_large = np.array([[1 / per_in, 0, large.low[0]], [0, 1 / per_in, large.low[1]], [0, 0, 1]])
            back = np.linalg.inv(to_table) @ np.linalg.inv(plane) @ to_large
            try:
                score, back = cv2.findTransformECC(
                    other,
                    one,
                    (back / back[2, 2]).astype(np.float32),
                    cv2.MOTION_HOMOGRAPHY,
                    (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, ROUNDS, SETTLED),
                    (one_trust > LEAST_HELD).astype(np.uint8),
                    1,
                )
            except cv2.error:
                continue
            better.append((float(score), to_large @ np.linalg.inv(back.astype(float)) @ np.linalg.inv(to_table)))
        found = sorted(better, key=lambda one: -one[0])
    return [plane / plane[2, 2] for _, plane in found]


def laid_as(sheet: Sheet, to_picture: Callable[[Array], Array], flat: Flat) -> tuple[Picture, Picture]:
    """The second photograph (rows, columns, 3) as logarithms on the grid of ``flat``, and where it is seen."""
    shape = flat.trust.shape[0], flat.trust.shape[1]
    light, inside = sheet.seen(on_grid(to_picture, flat.low, flat.per_in, shape))
    sound = inside & (light.max(axis=2) < SATURATED)
    bright = np.maximum(np.percentile(light[sound][::37], 97, axis=0), 1e-4) if sound.any() else np.ones(3)
    values = np.log(light / bright.astype(np.float32) + np.float32(DARKEST))
    return np.asarray(values, np.float32), sound.astype(np.float32)


def _level(values: Picture, trust: Picture, sigma: float) -> Picture:
    """A picture freed of what changes slowly, nothing where nothing is seen."""
    held = np.maximum(blurred(trust, sigma), np.float32(1e-3))
    return np.asarray((values - blurred(values * trust, sigma) / held) * (trust > LEAST_HELD), np.float32)


def _beside(flat: Flat) -> Flat:
    """The grid of ``flat`` with a margin about it; its pictures say nothing."""
    more = round(BESIDE_IN * flat.per_in)
    shape = flat.trust.shape[0] + 2 * more, flat.trust.shape[1] + 2 * more
    none = np.zeros(shape, np.float32)
    return replace(flat, low=flat.low - more / flat.per_in, values=none, trust=none, sure=none, within=none, sound=none)


def _small(values: Picture, trust: Picture, per_in: float, wanted: float) -> tuple[Picture, Picture]:
    """A picture with ``wanted`` points an inch, and its trust."""
    import cv2

    size = max(8, round(values.shape[1] * wanted / per_in)), max(8, round(values.shape[0] * wanted / per_in))
    held, seen = (cv2.resize(one, size, interpolation=cv2.INTER_AREA) for one in (values * trust, trust))
    return np.asarray(held / np.maximum(seen, 1e-3), np.float32), np.asarray(seen, np.float32)


def _rough(
    one: Picture, trust: Picture, other: Picture, corner: Array, per_in: float, low: Array
) -> list[tuple[float, Array]]:
    """The likeliest shifts, turns and sizes, as plane maps (3, 3) of the table."""
    import cv2

    rows, columns = one.shape
    middle = corner + np.array([columns, rows]) / 2
    found = []
    for turn in TURNS_DEG:
        for size in SIZES:
            cos, sin = size * np.cos(np.radians(turn)), size * np.sin(np.radians(turn))
            about = np.array([[cos, -sin], [sin, cos]])
            there = np.column_stack([about, middle - about @ middle])
            turned = cv2.warpAffine(other, there, other.shape[::-1], flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP)
            alike, _ = matched(one, trust, np.asarray(turned, np.float32))
            row, column = np.unravel_index(int(alike.argmax()), alike.shape)
            # A place of the first's small picture is this much further on in the turned one, and turned in the second.
            moved = np.array([column, row]) - corner
            table = (middle / per_in) + low - corner / per_in
            plane = np.eye(3)
            plane[:2, :2] = about
            plane[:2, 2] = table + about @ (moved / per_in - table)
            found.append((float(alike.max()), plane))
    return sorted(found, key=lambda one: -one[0])[:TRIED]
