"""Straight lines in the frame, many at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Segments:
    """Straight lines in pixels of the frame: n of them.

    ``starts`` and ``ends`` (n, 2); ``widths`` (n, 2), the full width at start and end; ``colours`` (n,) 0xRRGGBB;
    ``joined`` (n, 2), true where the line goes on beyond that end (rounded there, so that a bend has no gap), false
    where it is cut off square.
    """

    starts: Array
    ends: Array
    widths: Array
    colours: NDArray[np.uint32]
    joined: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.starts)


def segments(
    starts: ArrayLike, ends: ArrayLike, widths: ArrayLike, colours: ArrayLike = 0xFFFFFF, joined: ArrayLike = False
) -> Segments:
    """Segments from anything that broadcasts: ``widths`` and ``joined`` may be one value or (n, 2).

    Raises ValueError where a number is not finite or a width is negative.
    """
    first = np.array(starts, np.float64).reshape(-1, 2)
    last = np.array(ends, np.float64).reshape(-1, 2)
    width = np.broadcast_to(np.asarray(widths, np.float64), first.shape)
    if not (np.isfinite(first).all() and np.isfinite(last).all() and np.isfinite(width).all()):
        raise ValueError("a line to be lit has an end or a width that is not a number")
    if (width < 0).any():
        raise ValueError("a line to be lit has a width below zero")
    colour = np.broadcast_to(np.asarray(colours, np.uint32), first.shape[:1])
    return Segments(first, last, width, colour, np.broadcast_to(np.asarray(joined, np.bool_), first.shape))
