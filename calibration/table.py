"""The calibrated table: one object that maps table inches to projector pixels and back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.marks import Mark

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Table:
    """A fitted calibration. ``matrix`` maps table inch to pixel (3x3, last entry 1)."""

    width_px: int
    height_px: int
    matrix: Array
    marks: tuple[Mark, ...]
    gamma: float = 2.2
    date: str = ""
