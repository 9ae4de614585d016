"""How far off each corner is that a photograph saw, after the fit: what a picture of it is drawn from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.bundle import Bundle
from calibration.photographs.model import Model
from calibration.photographs.sighting import Sighting

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Residuals:
    """One photograph's corners: ``saw`` it, ``apart_px`` (N, 2) by how much the fit has each elsewhere, right and down;
    ``used`` (N,) tells which were believed."""

    saw: Sighting
    apart_px: Array
    used: NDArray[np.bool_]

    @property
    def spread_px(self) -> float:
        """Root mean square of those that were used, along one axis."""
        return float(np.sqrt((self.apart_px[self.used] ** 2).mean())) if self.used.any() else 0.0


def residuals_of(bundled: Bundle) -> Sequence[Residuals]:
    """For each photograph of the fit all corners that it saw."""
    model = Model(bundled.model.pattern, bundled.seen)
    missed = model(bundled.values, 1.0)[0]
    found, at = [], 0
    for saw, used in zip(bundled.seen, bundled.used, strict=True):
        apart = missed[at : at + 2 * len(saw.numbers)].reshape(-1, 2)
        at += apart.size
        found.append(Residuals(saw, apart, np.isin(saw.numbers, used.numbers)))
    return found
