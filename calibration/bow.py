"""Bow and skew of a row, as ASTM D3882 measures them, and the shape of a bowed row.

A straightedge joins the two points where one row meets the selvedges. Bow is the greatest depth of the row from it,
skew the distance along the selvedge between where the row meets the far selvedge and where a line square to the
selvedge through its near end does; both as a percentage of the cloth width (ASTM D3882, *Standard Test Method for Bow
and Skew in Woven and Knitted Fabrics*). The method sets no limit: that is agreed between buyer and supplier.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def bow_pct(depth_in: float, width_in: float) -> float:
    """Bow in percent: 100 x greatest depth / cloth width; the sign of ``depth_in`` is kept."""
    return 100 * depth_in / width_in


def skew_pct(offset_in: float, width_in: float) -> float:
    """Skew in percent: 100 x offset / cloth width; positive when the far selvedge end lies further along."""
    return 100 * offset_in / width_in


def skew_deg(offset_in: float, width_in: float) -> float:
    """The same skew as an angle in degrees: atan(offset / width)."""
    return math.degrees(math.atan2(offset_in, width_in))


def depth_shares(across_in: ArrayLike, width_in: float) -> Array:
    """Depth (N,) of a bowed row at distances (N,) from the near selvedge, as a share of the greatest.

    A parabola, ``4 u (1 - u)`` with u the share of the width: 0 at both selvedges, 1 at mid-width. A real bow is not
    exactly so; three points on a row cannot tell more.
    """
    share = np.asarray(across_in, float) / width_in
    return 4 * share * (1 - share)
