"""Where pins or hooks go along a heading."""

from __future__ import annotations

import math
from fractions import Fraction

from jobs.model.job import Pins


def pin_places(width: Fraction, pins: Pins) -> tuple[Fraction, ...]:
    """Places across a panel ``width`` wide, finished and flat, from one side: equal steps no longer than the spacing.

    A panel too narrow for two pins has one in its middle.
    """
    between = width - 2 * pins.from_side
    if between <= 0:
        return (width / 2,)
    steps = math.ceil(between / pins.spacing)
    return tuple(pins.from_side + between * k / steps for k in range(steps + 1))
