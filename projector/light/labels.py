"""Lines of letters on the table, as filled outlines in the frame: every outline point goes through the map."""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

from projector.light.fills import Fill
from projector.light.legs import moved
from projector.light.letters import outline_of
from projector.light.segments import Array
from projector.light.view import View
from projector.scene.marks import Text

TOO_LOOSE = 3.0
"""A label whose upright box in the frame is this many times larger than its letters need is filled letter by letter."""


def outline_in(text: Text, motion: Array | None = None) -> Array:
    """Outline points (n, 2) in table inches of a line of letters, in the order of ``outline_of(text.text)``."""
    outlines = outline_of(text.text)
    turn = np.radians(text.turn_deg)
    rotation = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    local = (outlines.points - np.array([outlines.width / 2, 0.5])) * text.height
    return moved(local @ rotation + np.array(text.at, np.float64), motion)


def fills_of(text: Text, view: View, colour: int, motion: Array | None = None) -> list[Fill]:
    """The letters in pixels of the frame; letters that reach beyond what the frame can show are left out."""
    outlines = outline_of(text.text)
    points_in = outline_in(text, motion)
    if not len(points_in):
        return []
    inside = points_in @ view.limits[:, :2].T + view.limits[:, 2]
    if (inside < 0).all(axis=0).any():
        return []
    seen = np.ones(len(outlines.starts), np.bool_)
    hidden = inside[:, 0] < 0 if not view.bends else (inside < 0).any(axis=1)
    if hidden.any():
        bad = np.unique(outlines.glyphs[np.searchsorted(outlines.starts, np.flatnonzero(hidden), side="right") - 1])
        seen = ~np.isin(outlines.glyphs, bad)
        if not seen.any():
            return []
    sizes = np.diff(np.append(outlines.starts, len(points_in)))
    keep = np.repeat(seen, sizes)
    sizes = sizes[seen]
    points = view.table.to_frame(points_in[keep])
    return _parted(points, np.cumsum(sizes) - sizes, outlines.glyphs[seen], colour)


def _parted(points: Array, starts: NDArray[np.intp], glyphs: NDArray[np.intp], colour: int) -> list[Fill]:
    """One fill for the whole line, or one a letter where a slanting line would need a large box."""
    low, high = np.minimum.reduceat(points, starts), np.maximum.reduceat(points, starts)
    letter = np.flatnonzero(np.diff(glyphs, prepend=-1))
    low, high = np.minimum.reduceat(low, letter), np.maximum.reduceat(high, letter)
    needed = float(np.prod(high - low, axis=1).sum())
    whole = float(np.prod(high.max(axis=0) - low.min(axis=0)))
    if whole <= TOO_LOOSE * needed:
        return [Fill(points, starts, colour)]
    bounds = np.append(letter, len(starts))
    edges = np.append(starts, len(points))
    return [Fill(points[edges[a] : edges[b]], starts[a:b] - edges[a], colour) for a, b in itertools.pairwise(bounds)]
