"""Compares pictures stroke by stroke: every lit pixel of one has a lit neighbour in the other, both ways.

An average over a whole picture passes a missing line; this does not.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

LIT_FROM = 96
"""A pixel counts as lit from this value of its brightest channel: about an eighth of full light at gamma 2.2."""


def lit_pixels(frame: NDArray, lit_from: int = LIT_FROM) -> NDArray[np.bool_]:
    """Which pixels are lit: ``frame`` is (h, w) packed 0x00RRGGBB or (h, w, 3) bytes."""
    if frame.ndim == 3:
        return frame.max(axis=2) >= lit_from
    return np.maximum(np.maximum(frame >> 16 & 255, frame >> 8 & 255), frame & 255) >= lit_from


def grown(lit: NDArray[np.bool_], reach_px: int = 1) -> NDArray[np.bool_]:
    """Pixels that are lit or have a lit neighbour within ``reach_px``, corners included."""
    wide = np.pad(lit, reach_px)
    size = 2 * reach_px + 1
    rows = np.logical_or.reduce([wide[shift : shift + lit.shape[0]] for shift in range(size)])
    return np.logical_or.reduce([rows[:, shift : shift + lit.shape[1]] for shift in range(size)])


def unmatched(first: NDArray, second: NDArray, reach_px: int = 1, lit_from: int = LIT_FROM) -> NDArray[np.intp]:
    """Pixels (n, 2) as row and column that are lit in one frame without a lit neighbour in the other."""
    assert first.shape[:2] == second.shape[:2], f"pictures of {first.shape[:2]} and {second.shape[:2]} pixels"
    a, b = lit_pixels(first, lit_from), lit_pixels(second, lit_from)
    return np.argwhere((a & ~grown(b, reach_px)) | (b & ~grown(a, reach_px)))


def assert_same_strokes(first: NDArray, second: NDArray, reach_px: int = 1, lit_from: int = LIT_FROM) -> None:
    """Raises AssertionError that says where the pictures differ, or when both are dark."""
    assert lit_pixels(first, lit_from).any(), "the first picture is dark"
    lost = unmatched(first, second, reach_px, lit_from)
    assert not len(lost), f"{len(lost)} pixels without a partner, the first at row {lost[0][0]}, column {lost[0][1]}"
