"""What an earlier calibration says of the one that photographs make now, where the light has kept its shape.

Photographs know the shape of the light on the table, the tape alone its size. A light of the same shape, hung as it
was, has the same size too: a length that says otherwise is doubted. A projector that was tilted, or shifted and aimed
again, lights another shape, and nothing is said then.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.height import LensPosition
from calibration.photographs.taping import Taped
from calibration.table import Table, frame_grid
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

GRID = (13, 9)
SEEN_IN = 1 / 32
"""Shapes that are nowhere farther apart than this, beside what both calibrations leave open, are one (a setting)."""
SIGMAS = 3.0
"""Lengths this many standard uncertainties apart are not one."""
LEAST_IN = 3 / 32
"""... and no hand lays a tape better than to a part of this."""


@dataclass(frozen=True, eq=False)
class SameLight:
    """Two calibrations of a light that has kept its shape: ``to_now`` (3, 3), a similarity, brings the inches of
    ``before`` to those of ``now``."""

    before: Table
    now: Table
    to_now: Array

    def between_in(self, crosses_px: Array) -> tuple[float, float]:
        """How far apart two pixels (2, 2) were lit by ``before``, and its standard uncertainty, inches."""
        ends = self.before.to_table(crosses_px)
        apart = float(np.linalg.norm(ends[1] - ends[0]))
        return apart, float(Uncertainty(self.before).length_uncertainty_in(ends[:1], ends[1:])[0])

    def brought(self, position: LensPosition) -> LensPosition:
        """Where the lens is, counted as ``now`` counts; how high it hangs a tape has said."""
        x, y = homography.apply(self.to_now, [position.foot_in])[0].tolist()
        return replace(position, foot_in=(x, y))


def same_light(before: Table, now: Table) -> SameLight | None:
    """Both as of one light; None where its frame is another one, or its shape on the table."""
    if (before.width_px, before.height_px) != (now.width_px, now.height_px):
        return None
    pixels = frame_grid(now.width_px, now.height_px, *GRID)
    try:
        then, there = before.to_table(pixels), now.to_table(pixels)
    except homography.OutOfReach:
        return None
    to_now, size = _similarity(then, there)
    apart_in = np.linalg.norm(homography.apply(to_now, then) - there, axis=1).max() / size
    left_open_in = Uncertainty(before).everywhere_in() + Uncertainty(now).everywhere_in() / size
    return SameLight(before, now, to_now) if apart_in <= left_open_in + SEEN_IN else None


def length_before_in(light: SameLight, crosses_px: Array, taped: Taped) -> float | None:
    """How far apart the crosses were by the earlier calibration, where the tape says something else beyond doubt."""
    then_in, spread_in = light.between_in(crosses_px)
    enough = max(SIGMAS * math.hypot(spread_in, taped.spread_in), LEAST_IN)
    return then_in if abs(then_in - taped.length_in) > enough else None


def _similarity(source: Array, target: Array) -> tuple[Array, float]:
    """The shift, turn and size (3, 3) that bring ``source`` (N, 2) nearest to ``target``, and the size by itself.

    Least squares in complex numbers, which turn and size by one product.
    """
    one, other = (points @ (1, 1j) for points in (source, target))
    middle = one.mean()
    by = np.vdot(one - middle, other) / np.vdot(one - middle, one - middle).real
    shift = other.mean() - by * middle
    return np.array([[by.real, -by.imag, shift.real], [by.imag, by.real, shift.imag], [0, 0, 1]]), float(abs(by))
