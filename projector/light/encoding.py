"""Coverage to pixel values: projected light is (value / 255) ** gamma, so coverage is encoded before it is stored."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]
Packed = NDArray[np.uint32]

COLOUR_BITS = 0xFFFFFF
"""The lower 24 bits of a packed value are 0x00RRGGBB; the top byte holds coverage while a frame is being drawn."""


def tent_step(offset_px: Floats) -> Floats:
    """Share of a tent filter (half width 1 px, area 1) that lies on the covered side of an edge.

    ``offset_px`` is how far the pixel centre lies inside the edge, any shape; the result is in [0, 1].
    A tent sums to one over whole-pixel steps and keeps first moments (it is the linear B-spline), which is why the
    centroid of a line drawn with it is exact at every sub-pixel place.
    """
    inside = np.minimum(np.maximum(offset_px, np.float32(-1.0)), np.float32(1.0))
    share = np.abs(inside)
    share *= np.float32(-0.5)
    share += np.float32(1.0)
    share *= inside
    share += np.float32(0.5)
    return share


def packed_values(coverage: Floats, colour: int, gamma: float) -> Packed:
    """Packed pixel values 0xCCRRGGBB for coverage in [0, 1] of a frame otherwise dark; CC is the encoded coverage, so
    that values of one colour sort by coverage and, between colours, the most covered wins a plain maximum."""
    covered = np.clip(coverage, 0.0, 1.0).astype(np.float64)
    light = covered ** (1.0 / gamma)
    packed = np.rint(light * 255).astype(np.uint32) << np.uint32(24)
    for shift in (16, 8, 0):
        level = colour >> shift & 255
        packed |= np.rint(light * level).astype(np.uint32) << np.uint32(shift)
    return packed
