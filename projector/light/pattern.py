"""The pattern for photographs as a frame of light, pixel for pixel."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.finding import code_bits
from calibration.photographs.pattern import CODE_MODULES, MODULES, Pattern

Packed = NDArray[np.uint32]
Levels = NDArray[np.float32]

LIT = 0x00E6E6E6
"""White a little below full: a camera's brightest spots keep their edges, and the three colours stay alike."""
ARM_SHARE, WIDTH_SHARE = 0.36, 0.05
"""Half the length of a cross's arms and the width of its lines, as shares of a field's side."""


def pattern_frame(pattern: Pattern, *, on_white: bool = False) -> Packed:
    """The frame (height, width) of 0x00RRGGBB pixels; ``on_white``: only the codes, on a white field, where a print is
    to be seen that dark fields would hide.

    Dark beside the board too: room light shows what is around. A cross's lines have an even width, so that its middle
    stands on the border between pixels where the pattern says.
    """
    frame = np.full((pattern.height_px, pattern.width_px), LIT if on_white else 0, np.uint32)
    side, module = pattern.side_px, pattern.side_px // MODULES
    quiet = (side - CODE_MODULES * module) // 2
    for number, (column, row) in enumerate(pattern.white_fields):
        left, top = pattern.corner_of(column, row)
        frame[top : top + side, left : left + side] = LIT
        code = np.where(np.kron(code_bits(number), np.ones((module, module), np.uint8)), LIT, 0)
        frame[top + quiet : top + quiet + code.shape[0], left + quiet : left + quiet + code.shape[1]] = code
    if on_white:
        return frame
    half, arm = max(1, round(side * WIDTH_SHARE / 2)), round(side * ARM_SHARE)
    for u, v in pattern.crosses_px.astype(int).tolist():
        frame[v - half : v + half, u - arm : u + arm] = LIT
        frame[v - arm : v + arm, u - half : u + half] = LIT
    return frame


def levels_of(frame: Packed, gamma: float) -> Levels:
    """The share of full light (height, width), 0 to 1, that a projector of this ``gamma`` throws of a white frame."""
    return np.asarray(((frame & np.uint32(255)) / 255.0) ** gamma, np.float32)
