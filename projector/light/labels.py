"""Lines of letters on the table, as filled outlines in the frame: every outline point goes through the map."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np

from projector.light.letters import Outlines, outline_of
from projector.light.raster.arrays import Array, Flags, Indices
from projector.light.raster.fills import Fill
from projector.light.view import View
from projector.scene.marks import Text

TOO_LOOSE = 3.0
"""A label whose upright box in the frame is this many times larger than its letters need is filled letter by letter."""


def fills_of(texts: Sequence[Text], view: View, colour: int) -> list[Fill]:
    """Lines of letters in pixels of the frame; letters that reach beyond what the frame can show are left out."""
    if not texts:
        return []
    outlines = [outline_of(text.text) for text in texts]
    points_in = outlines_in(texts)
    inside = points_in @ view.limits[:, :2].T + view.limits[:, 2] >= 0
    ends = np.cumsum([len(outline.points) for outline in outlines])
    if inside.all():
        return _whole(view.table.to_frame(points_in), outlines, colour, ends)
    parts = zip(np.split(points_in, ends[:-1]), np.split(inside, ends[:-1]), outlines, strict=True)
    return [fill for points, seen, shape in parts for fill in _seen(points, seen, shape, view, colour)]


def outlines_in(texts: Sequence[Text]) -> Array:
    """Outline points (n, 2) in table inches of lines of letters, one after the other, each in the order of its
    ``outline_of``."""
    outlines = [outline_of(text.text) for text in texts]
    turn = np.radians([text.turn_deg for text in texts])
    height, middle = np.array([text.height for text in texts]), np.array([shape.width / 2 for shape in outlines])
    along, up = height * np.cos(turn), height * np.sin(turn)
    x, y = np.array([text.at for text in texts], np.float64).T
    spread = np.repeat(
        [along, up, x - along * middle + up / 2, y - up * middle - along / 2],
        [len(shape.points) for shape in outlines],
        axis=1,
    )
    u, v = np.concatenate([shape.points for shape in outlines]).T
    return np.stack([u * spread[0] - v * spread[1] + spread[2], u * spread[1] + v * spread[0] + spread[3]], 1)


def _seen(points_in: Array, inside: Flags, outlines: Outlines, view: View, colour: int) -> list[Fill]:
    """The letters of one line that the frame can show; ``inside`` (n, limits) tells which limits each point keeps."""
    if (~inside).all(axis=0).any():
        return []
    seen = np.ones(len(outlines.starts), np.bool_)
    hidden = ~inside[:, 0] if not view.bends else ~inside.all(axis=1)
    if hidden.any():
        bad = np.unique(outlines.glyphs[np.searchsorted(outlines.starts, np.flatnonzero(hidden), side="right") - 1])
        seen = ~np.isin(outlines.glyphs, bad)
    sizes = np.diff(np.append(outlines.starts, len(points_in)))
    keep = np.repeat(seen, sizes)
    sizes = sizes[seen]
    points = view.table.to_frame(points_in[keep])
    return _parted(points, np.cumsum(sizes) - sizes, outlines.glyphs[seen], colour)


def _whole(points: Array, outlines: Sequence[Outlines], colour: int, ends: Indices) -> list[Fill]:
    """One fill for each line of letters, or one a letter, ``points`` (n, 2) px being those of all lines."""
    begins = ends - [len(shape.points) for shape in outlines]
    lines = [(shape, begin, end) for shape, begin, end in zip(outlines, begins, ends, strict=True) if end > begin]
    if not lines:
        return []
    letters = np.concatenate([shape.starts[shape.letters] + begin for shape, begin, _ in lines])
    low, high = np.minimum.reduceat(points, letters), np.maximum.reduceat(points, letters)
    firsts = np.cumsum([0, *(len(shape.letters) for shape, _, _ in lines[:-1])])
    needed = np.add.reduceat(np.prod(high - low, axis=1), firsts)
    whole = np.prod(np.maximum.reduceat(high, firsts) - np.minimum.reduceat(low, firsts), axis=1)
    fills: list[Fill] = []
    for (shape, begin, end), is_tight in zip(lines, (whole <= TOO_LOOSE * needed).tolist(), strict=True):
        if is_tight:
            fills.append(Fill(points[begin:end], shape.starts, colour))
        else:
            fills += _parted(points[begin:end], shape.starts, shape.glyphs, colour)
    return fills


def _parted(points: Array, starts: Indices, glyphs: Indices, colour: int) -> list[Fill]:
    """One fill for the whole line, or one a letter where a slanting line would need a large box."""
    if not len(starts):
        return []
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
