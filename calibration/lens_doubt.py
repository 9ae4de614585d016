"""What the marks leave open about the lens, and what it is: in the expected error already, said on its own."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import words
from calibration.fitting import PLANE
from calibration.lit import lit_points
from calibration.quantiles import CENTRAL_95
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

TOLD = 0.7
"""Marks tell of the lens when they leave k1 no more than this share of the width it has before any mark."""


@dataclass(frozen=True)
class LensDoubt:
    """A radial term up to ``k1`` beside the fitted one cannot be ruled out; it would move the light by ``error_in``.

    ``told_by_marks`` is false when the marks say next to nothing of it.
    """

    k1: float
    error_in: float
    at_in: tuple[float, float]
    where: str
    told_by_marks: bool

    def sentence(self, unit: str = "in") -> str:
        """The doubt in words."""
        size = words.error(self.error_in, unit)
        if self.told_by_marks:
            return f"Of a lens that bends straight lines the marks leave no more than {size} open, {self.where}."
        return (
            f"These marks cannot show whether the lens bends straight lines: by up to {size}, {self.where}. "
            "The expected error allows for it; marks at the middles of the edges would show it."
        )


def lens_shows(made: Uncertainty) -> bool:
    """Whether the marks show a bend: the fitted k1 is more than chance, in 95 of 100 cases."""
    lens = made.table.lens
    if lens is None or made.parameters.shape[0] == PLANE:
        return lens is not None
    return abs(lens.k1) > CENTRAL_95 * math.sqrt(made.parameters[PLANE, PLANE])


def lens_doubt(made: Uncertainty) -> LensDoubt | None:
    """What a bend at the end of its 95 % interval would do, the map giving way as it would; None where a bend shows.

    None as well for a lens that is taken to be perfect.
    """
    if made.parameters.shape[0] == PLANE or lens_shows(made):
        return None
    spread = math.sqrt(made.parameters[PLANE, PLANE])
    seen = lit_points(made.table, 25, 15)
    moved = CENTRAL_95 * made.slopes_in(seen) @ (made.parameters[:, PLANE] / spread)
    errors = np.linalg.norm(moved, axis=1)
    index = int(np.argmax(errors))
    x, y = seen[index].tolist()
    where = words.spot((x, y), made.table.lit_area())
    told = spread <= TOLD * made.prior.k1
    return LensDoubt(CENTRAL_95 * spread, float(errors[index]), (x, y), where, told)
