"""What no way to share lengths of cloth can beat.

A line across the cloth is given to cuts side by side whose widths together are no more than the cloth: so a cut that
takes half of the width counts for half of the lines it covers (``packing.bound``). Shares may be rounded, which counts
for more where no third cut has room (functions of S. Fekete and J. Schepers, *New classes of fast lower bounds for bin
packing problems*, Mathematical Programming 91, 2001: shares that sum to one at most still do when they are rounded).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.packing.bound import least_used
from jobs.packing.items import Together, bundled
from jobs.packing.opening import least_on_few, opened_at_least
from jobs.packing.pack import as_lanes

ROUNDED = (0, 1, 2, 3, 4)
"""How shares are rounded: 0 not at all, k to whole parts of 1/k."""


def least_shared(
    cuts: Sequence[Cut], shares: Sequence[Mapping[str, Fraction]], job: Job, pieces: Sequence[Piece], opened: int
) -> tuple[Fraction, int]:
    """A use that no plan can beat that opens no more than ``opened`` pieces, and a number of pieces that none can do
    with fewer of, whatever lies side by side.

    ``shares`` are measures of the cuts that may lie beside others, as ``ResolvedJob`` has them.
    """
    apart = [replace(cut, beside="", before=Fraction(0), after=Fraction(0)) for cut in cuts]
    lanes, shapes, rolls, units = as_lanes(apart, job, pieces)
    found = bundled(lanes, shapes, rolls, Together([tuple(range(len(rolls)))]))
    names = [lanes[members[0]][0].id for members in found.members]
    width, *others = [tuple(share.get(name, Fraction(1)) for name in names) for share in shares]
    measures = [tuple(rounded(part, k) for part in width) for k in ROUNDED] + others
    instances = [replace(found.instance, shares=measure) for measure in dict.fromkeys(measures)]
    used = max(max(least_used(each), least_on_few(each, opened)) for each in instances)
    return units.inches(used), max(map(opened_at_least, instances))


def rounded(share: Fraction, k: int) -> Fraction:
    """The share rounded to whole parts of 1/k, so that shares of one width still sum to one at most."""
    parts = (k + 1) * share
    if k == 0 or parts.denominator == 1:
        return share
    return Fraction(parts.numerator // parts.denominator, k)
