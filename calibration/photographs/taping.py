"""From the shape of the light to a table in inches: zero and direction by the crosses, scale by the tape."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.marks import Mark, TapeClass
from calibration.photographed import NUMBERS, Photographed, widths_from_middle
from calibration.photographs.bundle import Bundle
from calibration.photographs.model import LIGHT, lens_of, places, plane_of, seen
from calibration.photographs.pattern import Pattern
from calibration.table import Table
from calibration.tape import tape_limit_in

Array = NDArray[np.float64]

SIGHTED_IN = 1 / 100
"""How far off, in two cases of three, a tape is laid on the middle of a lit cross (a setting; no source)."""
EVERY = 4
"""Of the pattern's corners every fourth each way becomes a mark of the table, as a sample of them all."""
STEP = 1e-4


@dataclass(frozen=True)
class Taped:
    """What the tape says from cross to cross, read once or more to the nearest ``nearest_in``.

    ``exact``: taken as it is, to see what the photographs by themselves leave open.
    """

    readings_in: tuple[float, ...]
    nearest_in: float = 1 / 32
    tape: TapeClass = TapeClass.II
    exact: bool = False

    @property
    def length_in(self) -> float:
        return sum(self.readings_in) / len(self.readings_in)

    @property
    def spread_in(self) -> float:
        """Standard uncertainty of the length: reading and laying, less with each reading, and the tape itself.

        A limit d / 2 or of the tape counts as d / sqrt 12 or limit / sqrt 3 (JCGM 100, from memory).
        """
        if self.exact:
            return 0.0
        once = self.nearest_in**2 / 12 + 2 * SIGHTED_IN**2
        return math.sqrt(once / len(self.readings_in) + tape_limit_in(self.tape, self.length_in) ** 2 / 3)


def table_of(bundled: Bundle, pattern: Pattern, taped: Taped, gamma: float = 2.2, date: str = "") -> Table:
    """The table: zero at the first cross, x towards the second, y away from whoever stands before them.

    The first cross is the one at the left of the frame; where a mirror swaps left and right, the other one, so that the
    light lies on the side of y above zero.
    """
    light, spread = bundled.light
    crosses = crosses_of(light, pattern)
    matrix = _matrix(light, pattern, crosses, taped.length_in)
    lens = lens_of(light, pattern)
    marks = [Mark((0.0, 0.0), _pair(crosses[0])), Mark((taped.length_in, 0.0), _pair(crosses[1]))]
    to_table = similarity(light, pattern, crosses, taped.length_in)
    for number, place in _places_seen(bundled, pattern):
        column, row = number % (pattern.columns - 1), number // (pattern.columns - 1)
        if column % EVERY == EVERY // 2 and row % EVERY == EVERY // 2:
            marks.append(Mark(_pair(homography.apply(to_table, [place])[0]), _pair(pattern.corners_px[number])))
    slopes = _slopes(light, pattern, crosses, taped.length_in)
    known = np.zeros((LIGHT + 1, LIGHT + 1))
    known[:LIGHT, :LIGHT], known[LIGHT, LIGHT] = spread, (taped.spread_in / taped.length_in) ** 2
    covariance = slopes @ known @ slopes.T
    made = Photographed(len(bundled.used), bundled.sigma_px, (covariance + covariance.T) / 2)
    size = pattern.width_px, pattern.height_px
    return Table(*size, homography.normalise(matrix), tuple(marks), gamma, date, lens, photographed=made)


def crosses_of(light: Array, pattern: Pattern) -> Array:
    """The pixels (2, 2) of the crosses in the order they are counted, for the numbers (8,) or more of a light."""
    return pattern.crosses_px if light[1] < 0 else pattern.crosses_px[::-1]


def _pair(point: Array) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def similarity(light: Array, pattern: Pattern, crosses: Array, length_in: float) -> Array:
    """The map (3, 3) from the plane's own coordinates to inches."""
    (x, y), (to_x, to_y) = places(light, pattern, crosses)[0]
    along = np.array([to_x - x, to_y - y])
    a, b = length_in * along / (along @ along)
    turn = np.array([[a, b], [-b, a]])
    return np.block([[turn, (-turn @ (x, y))[:, None]], [np.zeros((1, 2)), np.ones((1, 1))]])


def _matrix(light: Array, pattern: Pattern, crosses: Array, length_in: float) -> Array:
    """The map (3, 3) from table inch to ideal pixel."""
    to_plane = plane_of(light) @ widths_from_middle(pattern.width_px, pattern.height_px)
    return homography.inverse(similarity(light, pattern, crosses, length_in) @ to_plane)


def _slopes(light: Array, pattern: Pattern, crosses: Array, length_in: float) -> Array:
    """Derivatives (12, 9) of the numbers of ``Photographed`` by those of the light and the log of the scale."""
    to_widths = widths_from_middle(pattern.width_px, pattern.height_px)
    back = homography.inverse(to_widths @ _matrix(light, pattern, crosses, length_in))
    slopes = np.zeros((NUMBERS, LIGHT + 1))
    for number in range(LIGHT + 1):
        ends = []
        for step in (STEP, -STEP):
            moved, length = light.copy(), length_in
            if number < LIGHT:
                moved[number] += step
            else:
                length *= math.exp(step)
            change = to_widths @ _matrix(moved, pattern, crosses, length) @ back
            ends.append((change / change[2, 2]).ravel()[:8])
        slopes[:8, number] = (ends[0] - ends[1]) / (2 * STEP)
    slopes[8:, 4:8] = np.eye(4)
    return slopes


def _places_seen(bundled: Bundle, pattern: Pattern) -> Sequence[tuple[int, Array]]:
    """Numbers of corners and where (2,), in the plane's own coordinates, the photographs saw each on the mean."""
    x, _ = places(bundled.values, pattern, pattern.corners_px)
    found: dict[int, list[Array]] = {}
    for at, one in enumerate(bundled.used):
        layout = bundled.model.layout
        there, by_x, _, _ = seen(bundled.values[layout.camera(at)], bundled.values[layout.pose(at)], x[one.numbers])
        missed = (one.pixels - one.middle_px) / one.long_px - there
        moved = x[one.numbers] + np.linalg.solve(by_x, missed[:, :, None])[:, :, 0]
        for number, place in zip(one.numbers.tolist(), moved, strict=True):
            found.setdefault(number, []).append(place)
    return [(number, np.mean(found[number], axis=0)) for number in sorted(found)]
