"""Straight lines of the table under a bent light: cut in pieces so short that each may be drawn straight."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.homography import points_of
from calibration.table import Table

Array = NDArray[np.float64]
Counts = NDArray[np.intp]

WITHIN_PX = 0.1
LOOKS = 16
"""Pieces in which a line is looked at to find how far it bends."""


def bends_px(table: Table, starts_in: ArrayLike, ends_in: ArrayLike, pieces: int = 1) -> Array:
    """How far (N,) each lit line strays, in pixels, from ``pieces`` straight chords with equal lengths on the table.

    Lines run from ``starts_in`` (N, 2) to ``ends_in`` (N, 2). Raises ``OutOfReach``.
    """
    starts, ends = points_of(starts_in), points_of(ends_in)
    shares = np.linspace(0, 1, pieces * LOOKS + 1)
    points = starts[:, None] + (ends - starts)[:, None] * shares[None, :, None]
    lit = table.to_frame(points).reshape(points.shape)
    first, last = lit[:, 0:-1:LOOKS], lit[:, LOOKS::LOOKS]
    chord = last - first
    inner = lit[:, :-1].reshape(len(starts), pieces, LOOKS, 2) - first[:, :, None]
    side = inner[..., 0] * chord[:, :, None, 1] - inner[..., 1] * chord[:, :, None, 0]
    length = np.hypot(chord[..., 0], chord[..., 1])
    strays = np.divide(np.abs(side).max(axis=2), length, out=np.zeros_like(length), where=length > 0)
    return np.asarray(strays.max(axis=1), dtype=np.float64)


def pieces_within(table: Table, starts_in: ArrayLike, ends_in: ArrayLike, within_px: float = WITHIN_PX) -> Counts:
    """Into how many pieces (N,), equal on the table, each line from ``starts_in`` to ``ends_in`` (N, 2) is to be cut.

    Each piece drawn straight then lies within ``within_px`` of where it belongs; a plain lens needs one. Raises
    ``OutOfReach``.
    """
    starts, ends = points_of(starts_in), points_of(ends_in)
    pieces = np.ones(len(starts), dtype=np.intp)
    if table.lens is None or table.lens.is_plain or not len(starts):
        return pieces
    # A chord strays by the square of its length, so the number of pieces follows from one look ...
    pieces = np.maximum(1, np.ceil(np.sqrt(bends_px(table, starts, ends) / within_px))).astype(np.intp)
    for _ in range(12):
        # ... unless perspective crowds the bend into one part of the line: then it is cut finer.
        over = np.zeros(len(starts))
        for number in np.unique(pieces[pieces > 1]):
            same = pieces == number
            over[same] = bends_px(table, starts[same], ends[same], int(number)) / within_px
        bent = over > 1
        if not bent.any():
            break
        pieces[bent] = np.ceil(pieces[bent] * np.sqrt(over[bent]) + 0.01).astype(np.intp)
    return pieces
