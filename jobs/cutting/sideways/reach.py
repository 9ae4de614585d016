"""Where the top edges of sideways panels may lie across the cloth, and where they do.

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
from jobs.cutting.mirroring import mirror_line, pairing_of
from jobs.cutting.sideways.sizes import height_of
from jobs.model.job import Job
from jobs.model.schema import ZERO
from jobs.model.window import Window
from jobs.prints.pairs import Pairing

TURNED = (Pairing.TURNED, Pairing.TURNED_SLID_ALONG)
Interval = tuple[Fraction, Fraction]


def repeat_across(job: Job) -> Fraction:
    """The repeat across; raises ValueError where it is not known."""
    if job.cloth.repeat is None or job.cloth.repeat.across is None:
        raise ValueError("the repeat across is not known")
    return job.cloth.repeat.across


def tops(window: Window, job: Job) -> tuple[Interval, ...]:
    """Where the top edge of an upright panel may lie, from the near selvedge, its partner fitting too.

    The places nearest the far selvedge come first; there are none where no place does for both.
    """
    cloth = job.cloth
    low, high = cloth.selvedge + height_of(window, job), cloth.width - cloth.selvedge
    if high < low:
        return ()
    pairing = pairing_of(window, job)
    if cloth.repeat is None or pairing not in (*TURNED, Pairing.OWN_SLID_ACROSS):
        return ((low, high),)
    found = {part for part in _shared(low, high, window, job) if part[0] <= part[1]}
    return tuple(sorted(found, key=lambda part: -part[1]))


def _shared(low: Fraction, high: Fraction, window: Window, job: Job) -> Iterator[Interval]:
    """The part of the reach in which the partner fits, for each whole number of repeats between the two."""
    across, pairing = repeat_across(job), pairing_of(window, job)
    if pairing is Pairing.OWN_SLID_ACROSS:
        for half in (-across / 2, across / 2):
            yield max(low, low - half), min(high, high - half)
        return
    twice = 2 * mirror_line(job.cloth)
    least, most = job.cloth.selvedge, job.cloth.width - low
    for step in range(math.floor((low + least - twice) / across), math.ceil((high + most - twice) / across) + 1):
        yield max(low, twice + step * across - most), min(high, twice + step * across - least)


def top_for(depth: Fraction, window: Window, job: Job) -> Fraction | None:
    """The place nearest the far selvedge at which the top edge has a column so far below it; None without one."""
    across = repeat_across(job)
    wanted = columns_across(job.cloth)[0] + depth
    found = (high - (high - wanted) % across for _, high in tops(window, job))
    fits = [top for top, (low, _) in zip(found, tops(window, job), strict=True) if top >= low]
    return max(fits, default=None)


def partner_top(top: Fraction, window: Window, job: Job) -> tuple[Fraction, int]:
    """Where the top edge of the right panel of a pair lies, and how many columns further than its bare image.

    ``top`` is that of the left panel. The place nearest the selvedge the top lies at; it must fit.
    """
    pairing = pairing_of(window, job)
    if job.cloth.repeat is None or pairing not in (*TURNED, Pairing.OWN_SLID_ACROSS):
        return top, 0
    across, cloth = repeat_across(job), job.cloth
    if pairing is Pairing.OWN_SLID_ACROSS:
        bare, most = top + across / 2, cloth.width - cloth.selvedge
        steps = (most - bare) // across
        return bare + steps * across, steps
    bare = 2 * mirror_line(cloth) - top
    steps = -((bare - cloth.selvedge) // across)
    return bare + steps * across, steps


def row_below(top: Fraction, job: Job) -> Fraction:
    """From the top edge of an upright panel down to its first row, in [0, repeat across)."""
    return (top - columns_across(job.cloth)[0]) % repeat_across(job) if job.cloth.repeat is not None else ZERO


def column_below(top: Fraction, job: Job) -> int:
    """The number of the column at or next below the top edge of an upright panel, counted from the first one."""
    return (top - columns_across(job.cloth)[0]) // repeat_across(job)
