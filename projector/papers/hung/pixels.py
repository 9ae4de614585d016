"""The pixels of a hung panel from a picture of one repeat: each place is looked up where it lies on the piece."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.plan import Plan, Selvedge, Way
from projector.papers.hung.gathers import Gather
from projector.papers.hung_panel import HungCut, HungPanel, near_hangs_left
from projector.papers.tile import Pixels, Tile, colours_at

Array = NDArray[np.float64]


def panel_pixels(plan: Plan, panel: HungPanel, gather: Gather, tile: Tile, pixels_per_inch: float) -> Pixels:
    """The panel as (height, width, 3), sRGB, at so many pixels to an inch of what hangs."""
    wide = max(2, round(gather.width * pixels_per_inch))
    high = max(2, round(float(panel.length) * pixels_per_inch))
    hung = (np.arange(wide) + 0.5) * gather.width / wide
    flat = np.interp(hung, gather.hung, gather.flat)
    below = (np.arange(high) + 0.5) * float(panel.length) / high
    pixels = np.zeros((high, wide, 3), np.uint8)
    for cut in panel.cuts:
        inside = (flat >= float(cut.left)) & (flat <= float(cut.right))
        pixels[:, inside] = _cut_pixels(plan, cut, tile, flat[inside] - float(cut.left), below)
    strips = np.clip(np.searchsorted(gather.hung, hung) - 1, 0, len(gather.light) - 1)
    lit: Pixels = (pixels * gather.light[strips][None, :, None]).astype(np.uint8)
    return lit


def _cut_pixels(plan: Plan, cut: HungCut, tile: Tile, from_left: Array, below_top: Array) -> Pixels:
    """Colours (len(below_top), len(from_left), 3) of a cut; both are inches as finished."""
    along, across = _on_the_piece(plan, cut, from_left[None, :], below_top[:, None])
    piece = next(use.piece for use in plan.pieces if use.number == cut.placement.piece)
    return colours_at(tile, plan.job.cloth, float(piece.first_row), *np.broadcast_arrays(along, across))


def _on_the_piece(plan: Plan, hung: HungCut, from_left: Array, below_top: Array) -> tuple[Array, Array]:
    """Along from the piece's first end and across from its near selvedge, inches, of places of a hung cut."""
    placed, cut = hung.placement, hung.placement.cut
    cloth = plan.job.cloth
    in_from_left = from_left + float(hung.off)
    down = below_top / float(1 - cloth.shrinkage) + float(cut.heading)
    if cut.top_at is not None and cut.across is not None:
        in_from_left = from_left / float(1 - cloth.shrinkage) + float(hung.off)
        down = below_top / float(1 - cloth.shrinkage_across) + float(cut.heading)
        # Run sideways, face up, top at the far selvedge, a panel lies as it hangs.
        top_far = cut.top_at is Selvedge.FAR
        forwards = top_far is not (cut.way is Way.FACE_DOWN)
        along = float(placed.start) + in_from_left if forwards else float(placed.end) - in_from_left
        return along, (float(cut.across[1]) - down if top_far else float(cut.across[0]) + down)
    along = float(placed.start) + down if cut.top_first else float(placed.end) - down
    return along, (in_from_left if near_hangs_left(cut) else float(plan.job.cloth.width) - in_from_left)
