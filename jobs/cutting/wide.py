"""A flat panel that is wider than its cloth: a full width in the middle, the rest at both sides.

Its seams lie equally far from its middle, and as far as the cloth lets them; clear of the side hems, so that no seam is
turned over with them. A print runs on across each: what follows a seam is cut where the same place of the print comes
again on the cloth, whole columns from there, and on its own row where a drop has moved it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

from jobs.cutting.columns import columns_across
from jobs.cutting.strips import Narrow, level_columns, may_share
from jobs.model.cloth import Cloth
from jobs.model.cuts import MOST_CUTS, Edge
from jobs.model.job import Job, allowances_of
from jobs.model.records import dataclass
from jobs.model.schema import ZERO
from jobs.model.window import Window

Places = list[Fraction]
"""Along the width of a panel, from its middle."""


def wide_pieces(window: Window, job: Job, needed: Fraction) -> tuple[Narrow, ...]:
    """The widths of a flat panel ``needed`` wide with its hems, from the one nearest the near selvedge on; none where
    its print would not run on. The repeat across of a print must be known.

    A seam takes what it is to have, or the least seam where the print needs that.
    """
    cloth, given = job.cloth, allowances_of(window, job.allowances)
    allowed = (given.seam,) if cloth.repeat is None else (max(given.seam, given.least_seam), given.least_seam)
    for seam in dict.fromkeys(allowed):
        lies = _lies(window, cloth, seam)
        places = _seams(lies, needed / 2, 2 * given.side_hem + seam)
        if places:
            ends = [-needed / 2, *places, needed / 2]
            return tuple(
                _piece(lies, (start, end), needed / 2, given.side_hem, shares=may_share(window, job))
                for start, end in pairwise(ends)
            )
    return ()


@dataclass(frozen=True)
class _Lies:
    """How a panel lies on its cloth, from the near selvedge: seams from ``low`` to ``high``, its ``middle`` over the
    place of the cloth whose print it shows, ``column`` columns beyond where that comes first; it comes again ``across``
    further on, on plain cloth (None) anywhere."""

    cloth: Cloth
    seam: Fraction
    low: Fraction
    high: Fraction
    middle: Fraction
    across: Fraction | None
    column: int = 0

    def first(self, place: Fraction) -> Fraction:
        """The nearest to the near selvedge that a seam here may lie."""
        return self.low if self.across is None else self.low + (self.middle + place - self.low) % self.across

    def last(self, place: Fraction) -> Fraction:
        """The nearest to the far selvedge that a seam here may lie."""
        return self.high if self.across is None else self.high - (self.high - self.middle - place) % self.across


def _lies(window: Window, cloth: Cloth, seam: Fraction) -> _Lies:
    low, high = max(cloth.near_selvedge, seam), cloth.width - max(cloth.far_selvedge, seam)
    middle, across = (low + high) / 2, cloth.repeat.across if cloth.repeat is not None else None
    if across is not None and window.made is not None and window.made.middle is not None:
        wanted = columns_across(cloth)[0] + window.made.middle
        column = math.floor((middle - wanted) / across + Fraction(1, 2))
        return _Lies(cloth, seam, low, high, wanted + column * across, across, column)
    return _Lies(cloth, seam, low, high, middle, across)


def _seams(lies: _Lies, half: Fraction, least: Fraction) -> Places:
    """Where a panel ``half`` so wide to either side is seamed, ``least`` or more from its sides; none where that cannot
    be."""
    cloth, first = lies.cloth, min(lies.middle - lies.low, lies.high - lies.middle, half - least)

    def further(place: Fraction) -> tuple[Fraction, Fraction]:
        at = lies.first(place)
        return lies.high - at, cloth.width - cloth.far_selvedge - at

    def nearer(place: Fraction) -> tuple[Fraction, Fraction]:
        at = lies.last(-place)
        return at - lies.low, at - cloth.near_selvedge

    far, near = (_outwards(first, half, least, reaches) for reaches in (further, nearer))
    return [-place for place in reversed(near)] + far if near and far else []


def _outwards(
    first: Fraction, half: Fraction, least: Fraction, reaches: Callable[[Fraction], tuple[Fraction, Fraction]]
) -> Places:
    """The seams from the ``first`` on outwards; none where they do not come to the side of the panel.

    ``reaches`` tells of a width that begins with a seam at a place how far it comes to a further seam, and to its
    printed edge.
    """
    places, step = [first], first
    while step > 0 and len(places) <= MOST_CUTS:
        seam, edge = reaches(places[-1])
        if half - places[-1] <= edge:
            return places
        step = min(seam, half - least - places[-1])
        places.append(places[-1] + step)
    return []


def _piece(lies: _Lies, ends: tuple[Fraction, Fraction], half: Fraction, hem: Fraction, *, shares: bool) -> Narrow:
    """One width of a panel, from one end to the other."""
    start, end = ends
    seamed = tuple(edge for edge, place in ((Edge.NEAR, -start), (Edge.FAR, end)) if place != half)
    at = lies.first(start) if start > 0 else lies.last(end) - (end - start)
    if start < 0 < end:
        at = lies.middle + start
    columns = 0 if lies.across is None else int((at - lies.middle - start) / lies.across)
    begin = at - (lies.seam if Edge.NEAR in seamed else ZERO)
    width = end - start + len(seamed) * lies.seam
    return Narrow(
        width,
        begin - lies.cloth.near_selvedge,
        level_columns(lies.cloth),
        hem,
        lies.seam,
        seamed,
        lies.column + columns,
        exact=True,
        may_share=shares,
    )
