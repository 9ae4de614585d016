"""What no order of cuts on a piece can beat."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.layout.one_piece.ring import least_length
from jobs.layout.placing import Shape, Strip, earliest_start


def shortest_possible(strip: Strip, shapes: Sequence[Shape]) -> int:
    """A place before which the last cut cannot end, whatever the order.

    The larger of two: the exact shortest end if there were no flaws, since flaws only forbid places; and the end of
    each shape laid alone, since every cut must lie somewhere.
    """
    alone = (earliest_start(strip, shape, strip.begin) + shape.length for shape in set(shapes))
    return max(strip.begin + least_length(strip, shapes), *alone, strip.begin)
