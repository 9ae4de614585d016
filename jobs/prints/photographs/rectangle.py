"""The largest upright rectangle inside a mask."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def largest_rectangle(mask: NDArray[np.bool_]) -> tuple[int, int, int, int]:
    """Left, top, right, bottom (the last two past the end) of the largest rectangle of true entries; 0 all for none.

    Row by row, with the heights of the columns of true entries above it.
    """
    best, most = (0, 0, 0, 0), 0
    heights = np.zeros(mask.shape[1], int)
    for foot, row in enumerate(mask):
        heights = np.where(row, heights + 1, 0)
        waiting: list[tuple[int, int]] = []
        for at, height in enumerate([*heights.tolist(), 0]):
            begin = at
            while waiting and waiting[-1][1] >= height:
                begin, tall = waiting.pop()
                if tall * (at - begin) > most:
                    most, best = tall * (at - begin), (begin, foot + 1 - tall, at, foot + 1)
            waiting.append((begin, height))
    return best
