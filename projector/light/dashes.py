"""Line types: legs cut into the dashes of their look, in inches on the table."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from projector.light.legs import Legs
from projector.light.looks import Look


def dashed(legs: Legs, looks: Sequence[Look]) -> list[Legs]:
    """The lit parts of all legs.

    A pattern begins at the stroke's first point and runs on through its bends, so dots keep their place on the cloth
    when the view changes.
    """
    parts = []
    for number, look in enumerate(looks):
        mine = np.flatnonzero(legs.looks == number)
        if len(mine):
            parts.append(_lit(legs.where(mine), look.dashes_in) if look.dashes_in else legs.where(mine))
    return parts


def _lit(legs: Legs, dashes_in: tuple[float, ...]) -> Legs:
    period = sum(dashes_in)
    marks = np.concatenate([[0.0], np.cumsum(dashes_in)])
    begins, stops = marks[:-1:2], marks[1::2]
    length = legs.lengths
    first = np.floor(legs.phases / period)
    count = (np.floor((legs.phases + length) / period) - first).astype(np.intp) + 1
    pick = np.repeat(np.arange(len(legs)), count)
    number = np.arange(len(pick)) - (np.cumsum(count) - count)[pick]
    # Inches from the leg's start to the start of each period that it meets.
    base = (first - 0.0)[pick] * period + number * period - legs.phases[pick]
    start = (base[:, None] + begins).ravel() / np.repeat(length[pick], len(begins))
    stop = (base[:, None] + stops).ravel() / np.repeat(length[pick], len(begins))
    pick = np.repeat(pick, len(begins))
    start, stop = np.maximum(start, 0.0), np.minimum(stop, 1.0)
    seen = start < stop
    # A dash that begins or ends exactly at a bend is cut off there; one that runs through it goes on.
    return legs.between(pick[seen], start[seen], stop[seen])
