"""Panels as they hang: the brightness of a print down from the finished top and in from the leading edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from typing import Protocol

import numpy as np

from jobs.cutting.columns import columns_across
from jobs.model.cuts import Cut, Edge
from jobs.model.job import Job
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
        start = first_row + cut.phase + at * job.cloth.repeat.along
        shown = inside[(inside >= float(begin)) & (inside < float(end))] - float(begin)
        parts.append(tiling.at(_places(cut, start - first_row, shown, job)))
    return np.concatenate(parts, axis=1)


@dataclass(frozen=True)
class Sewn:
    """A side as it is sewn: where its seam or fold lies and where it is trimmed (None: nowhere), across the cloth."""

    line: Fraction
    joined: bool
    trim: Fraction | None


def near(cut: Cut) -> Sewn:
    return _sewn(cut, Edge.NEAR)


def far(cut: Cut) -> Sewn:
    return _sewn(cut, Edge.FAR)


def _sewn(cut: Cut, edge: Edge) -> Sewn:
    side = cut.side_at(edge)
    assert side is not None
    trim = edge.at(cut.across, cut.across, side.trim) if side.trim else None
    return Sewn(edge.at(cut.across, cut.across, side.line), side.joined, trim)


def finished_width(cut: Cut) -> Fraction:
    """From one seam or fold to the other."""
    return far(cut).line - near(cut).line


def _places(cut: Cut, start: Fraction, inside: Array, job: Job) -> Array:
    """Places on the print of the pixels of a cut that starts so far after a row; ``inside`` from its leading side."""
    top, sense = (start, 1) if cut.top_edge is Edge.FIRST else (start + cut.length, -1)
    down = (np.arange(int((cut.length - cut.heading - cut.hem) * PER_IN)) + 0.5) / PER_IN
    along = float(top) + sense * (float(cut.heading) + down)
    across = float(near(cut).line) + inside if cut.leading_edge is Edge.NEAR else float(far(cut).line) - inside
    return np.stack(np.meshgrid(along, across - float(columns_across(job.cloth)[0]), indexing="ij"), -1)
