"""Panels as they hang: the brightness of a print down from the finished top and in from the leading edge."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate
from typing import Protocol

import numpy as np

from jobs.cutting import columns_across
from jobs.model.cuts import Cut, Selvedge
from jobs.model.job import Job
from jobs.packing.rolls import start_after_row
from tests.jobs.cutting.tilings import Array

PER_IN = 2


class Print(Protocol):
    """Brightness at any place of the cloth."""

    def at(self, place: Array) -> Array:
        """Brightness (...) at places (..., 2): along and across from a motif point."""


def hung(tiling: Print, cuts: Sequence[Cut], job: Job, first_row: Fraction, repeats: Sequence[int]) -> Array:
    """Pixels (down, in) of one panel; its cuts lie on cloth with this first row, so many repeats along each."""
    assert job.cloth.repeat is not None
    ordered = sorted(cuts, key=lambda one: one.number)
    ends = list(accumulate(finished_width(cut) for cut in ordered))
    inside = (np.arange(int(ends[-1] * PER_IN)) + 0.5) / PER_IN
    parts = []
    for cut, at, begin, end in zip(ordered, repeats, [Fraction(0), *ends], ends, strict=False):
        start = first_row + start_after_row(cut, job.cloth) + at * job.cloth.repeat.along
        shown = inside[(inside >= float(begin)) & (inside < float(end))] - float(begin)
        parts.append(tiling.at(_places(cut, start - first_row, shown, job)))
    return np.concatenate(parts, axis=1)


def finished_width(cut: Cut) -> Fraction:
    """From one seam or fold to the other."""
    assert cut.near_side is not None
    assert cut.far_side is not None
    return cut.far_side.line - cut.near_side.line


def _places(cut: Cut, start: Fraction, inside: Array, job: Job) -> Array:
    """Places on the print of the pixels of a cut that starts so far after a row; ``inside`` from its leading side."""
    assert cut.near_side is not None
    assert cut.far_side is not None
    top, sense = (start, 1) if cut.top_first else (start + cut.length, -1)
    down = (np.arange(int((cut.length - cut.heading - cut.hem) * PER_IN)) + 0.5) / PER_IN
    along = float(top) + sense * (float(cut.heading) + down)
    near, far = float(cut.near_side.line), float(cut.far_side.line)
    across = near + inside if cut.leading_selvedge is Selvedge.NEAR else far - inside
    return np.stack(np.meshgrid(along, across - float(columns_across(job.cloth)[0]), indexing="ij"), -1)
