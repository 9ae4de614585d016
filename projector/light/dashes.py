"""Line types: legs cut into the dashes of their look, in inches on the table."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from projector.light.legs import Legs, all_legs
from projector.light.looks import Look


def dashed(legs: Legs, looks: Sequence[Look]) -> list[Legs]:
    """The lit parts of all legs, all in one; nothing when nothing is lit.

    A pattern begins at the stroke's first point and runs on through its bends, so dots keep their place on the cloth
    when the view changes.
    """
    broken = np.array([bool(look.dashes_in) for look in looks], np.bool_)[legs.looks]
    parts = [legs.where(~broken), _lit(legs.where(broken), looks)]
    lit = all_legs([part for part in parts if len(part)] or parts[:1])
    return [lit] if len(lit) else []


def _lit(legs: Legs, looks: Sequence[Look]) -> Legs:
    """The dashes of legs that all have some."""
    if not len(legs):
        return legs
    ends = [np.concatenate([[0.0], np.cumsum(look.dashes_in)]) for look in looks]
    begins = np.concatenate([marks[:-1:2] for marks in ends])
    stops = np.concatenate([marks[1::2] for marks in ends])
    dashes = np.array([len(look.dashes_in) // 2 for look in looks])
    before = (np.cumsum(dashes) - dashes)[legs.looks]
    each = dashes[legs.looks]
    period = np.array([marks[-1] for marks in ends])[legs.looks]

    length = legs.lengths
    first = np.floor(legs.phases / period)
    count = each * ((np.floor((legs.phases + length) / period) - first).astype(np.intp) + 1)
    pick = np.repeat(np.arange(len(legs)), count)
    number = np.arange(len(pick)) - (np.cumsum(count) - count)[pick]
    turn, dash = np.divmod(number, each[pick])
    # Inches from the leg's start to the start of the period that each dash belongs to.
    base = (first * period - legs.phases)[pick] + turn * period[pick]
    dash += before[pick]
    along = length[pick]
    start, stop = np.maximum((base + begins[dash]) / along, 0.0), np.minimum((base + stops[dash]) / along, 1.0)
    seen = start < stop
    # A dash that begins or ends exactly at a bend is cut off there; one that runs through it goes on.
    return legs.between(pick[seen], start[seen], stop[seen])
