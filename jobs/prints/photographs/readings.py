"""The lattices a picture can be read as: the one followed first, and its multiples where motifs differ in turn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jobs.prints.photographs.basis import reduced
from jobs.prints.photographs.following import Followed, follow
from jobs.prints.photographs.larger import strongest_multiple
from jobs.prints.photographs.opening import Pixels
from jobs.prints.photographs.peaks import Array
from jobs.prints.photographs.plane import Plane

_MOST_TIMES = 3


@dataclass(frozen=True, eq=False)
class Reading:
    """A lattice; ``followed`` over the picture, None where the evidence for it is short of sure. ``share`` of the
    contrast by which motifs of the reading before it differ in turn."""

    plane: Plane
    followed: Followed | None
    share: float = 0.0


def readings_of(channels: Pixels, followed: Followed) -> list[Reading]:
    """From the smallest repeat to the largest there is evidence for."""
    chain = [Reading(followed.plane, followed)]
    for _ in range(_MOST_TIMES):
        multiple = strongest_multiple(followed.cells)
        if multiple is None or not multiple.near:
            break
        plane = followed.plane.through(multiple.change)
        plane = plane.through(_shorter(plane, channels))
        again = follow(channels, plane.steps_at(_middle(channels))) if multiple.sure else None
        if again is None:
            chain.append(Reading(plane, None, multiple.share))
            break
        chain.append(Reading(again.plane, again, multiple.share))
        followed = again
    return chain


def _middle(channels: Pixels) -> Array:
    return np.array([channels.shape[1] / 2, channels.shape[0] / 2])


def _shorter(plane: Plane, channels: Pixels) -> Array:
    steps = plane.steps_at(_middle(channels))
    changed: Array = np.rint(reduced(steps) @ np.linalg.inv(steps))
    return changed
