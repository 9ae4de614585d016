"""Where the top edges of panels may lie across cloth run sideways, and where they do.

The rows of the finished panel run along the piece: they are the columns of the print, at ``c0 + k W`` from the near
selvedge (``W`` the repeat across). An upright panel whose top lies at ``t`` shows the column at ``c`` a distance
``t - c`` below its top edge, so the height of its rows fixes ``t`` but for whole repeats, and it must lie between the
selvedge strips. Its partner is the mirror image, with its top at

- ``2 x + k W - t`` where the panel is turned about a mirror line ``x`` along the cloth (top at the near selvedge),
- ``t + W / 2 + k W`` where the print mirrors about a line across the cloth with a slide of half a repeat,
- ``t`` elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from jobs.cutting.columns import columns_across
from jobs.cutting.mirroring import mirror_line
from jobs.model.cloth import Cloth
from jobs.model.cuts import Interval
from jobs.model.records import dataclass
from jobs.model.resolved import Pairing

TURNED = (Pairing.TURNED, Pairing.TURNED_SLID)


@dataclass(frozen=True)
class Reach:
    """The panels of one window on their cloth: what one takes across it, and what makes the right one from the left."""

    cloth: Cloth
    height: Fraction
    pairing: Pairing

    @property
    def across(self) -> Fraction:
        """The repeat across; raises ValueError where it is not known."""
        if self.cloth.repeat is None or self.cloth.repeat.across is None:
            raise ValueError("the repeat across is not known")
        return self.cloth.repeat.across

    def tops(self) -> tuple[Interval, ...]:
        """Where the top edge of an upright panel may lie, from the near selvedge, its partner fitting too.

        The places nearest the far selvedge come first; there are none where no place does for both.
        """
        cloth = self.cloth
        low, high = cloth.near_selvedge + self.height, cloth.width - cloth.far_selvedge
        if high < low:
            return ()
        if cloth.repeat is None or self.pairing not in (*TURNED, Pairing.OWN_SLID):
            return ((low, high),)
        found = {part for part in self._shared(low, high) if part[0] <= part[1]}
        return tuple(sorted(found, key=lambda part: -part[1]))

    def _shared(self, low: Fraction, high: Fraction) -> Iterator[Interval]:
        """The part of the reach in which the partner fits, for each whole number of repeats between the two."""
        across, cloth = self.across, self.cloth
        if self.pairing is Pairing.OWN_SLID:
            for half in (-across / 2, across / 2):
                yield max(low, low - half), min(high, high - half)
            return
        twice = 2 * mirror_line(cloth)
        least, most = cloth.near_selvedge, high - self.height
        for step in range(math.floor((low + least - twice) / across), math.ceil((high + most - twice) / across) + 1):
            yield max(low, twice + step * across - most), min(high, twice + step * across - least)

    def top_for(self, depth: Fraction) -> Fraction | None:
        """The place nearest the far selvedge at which the top edge has a column so far below it; None without one."""
        wanted, tops = columns_across(self.cloth)[0] + depth, self.tops()
        found = (high - (high - wanted) % self.across for _, high in tops)
        return max((top for top, (low, _) in zip(found, tops, strict=True) if top >= low), default=None)

    def partner_top(self, top: Fraction) -> tuple[Fraction, int]:
        """Where the top edge of the right panel of a pair lies, and how many columns further than its bare image.

        ``top`` is that of the left panel. The place nearest the selvedge the top lies at; it must fit.
        """
        if self.cloth.repeat is None or self.pairing not in (*TURNED, Pairing.OWN_SLID):
            return top, 0
        across, cloth = self.across, self.cloth
        if self.pairing is Pairing.OWN_SLID:
            bare, most = top + across / 2, cloth.width - cloth.far_selvedge
            steps = (most - bare) // across
            return bare + steps * across, steps
        bare = 2 * mirror_line(cloth) - top
        steps = -((bare - cloth.near_selvedge) // across)
        return bare + steps * across, steps

    def row_below(self, top: Fraction) -> Fraction:
        """From the top edge of an upright panel down to its first row, in [0, repeat across)."""
        return (top - columns_across(self.cloth)[0]) % self.across

    def column_below(self, top: Fraction) -> int:
        """The number of the column at or next below the top edge of an upright panel, counted from the first one."""
        return (top - columns_across(self.cloth)[0]) // self.across
