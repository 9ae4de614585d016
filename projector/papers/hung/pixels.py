"""The pixels of a hung panel: each place is looked up where it lies on the piece."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.plan import Plan
from projector.papers.hung.gathers import Gather
from projector.papers.hung_panel import Axis, HungCut, HungPanel
from projector.prints.face import Face, Pixels

Array = NDArray[np.float64]


def panel_pixels(plan: Plan, panel: HungPanel, gather: Gather, face: Face, pixels_per_inch: float) -> Pixels:
    """The panel as (height, width, 3), sRGB, at so many pixels to an inch of what hangs."""
    wide = max(2, round(gather.width * pixels_per_inch))
    high = max(2, round(float(panel.length) * pixels_per_inch))
    hung = (np.arange(wide) + 0.5) * gather.width / wide
    flat = np.interp(hung, gather.hung, gather.flat)
    below = (np.arange(high) + 0.5) * float(panel.length) / high
    pixels = np.zeros((high, wide, 3), np.uint8)
    for cut in panel.cuts:
        inside = (flat >= float(cut.left)) & (flat <= float(cut.right))
        pixels[:, inside] = _cut_pixels(plan, cut, face, flat[inside], below)
    strips = np.clip(np.searchsorted(gather.hung, hung) - 1, 0, len(gather.light) - 1)
    lit: Pixels = (pixels * gather.light[strips][None, :, None]).astype(np.uint8)
    return lit


def _cut_pixels(plan: Plan, cut: HungCut, face: Face, from_left: Array, below_top: Array) -> Pixels:
    """Colours (len(below_top), len(from_left), 3) of a cut; both are inches of the panel as finished."""
    along, across = (_distances(axis, from_left, below_top) for axis in (cut.along, cut.across))
    piece = next(use.piece for use in plan.pieces if use.number == cut.placement.piece)
    return face.colours_at(*np.broadcast_arrays(along - float(piece.first_row), across))


def _distances(axis: Axis, from_left: Array, below_top: Array) -> Array:
    """The distance on the piece, a column of them where it grows downwards, else a row."""
    return float(axis.at) + float(axis.by) * (below_top[:, None] if axis.falls else from_left[None, :])
