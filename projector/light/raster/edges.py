"""Edges of outlines, cut up until each lies within one pixel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from projector.light.raster.arrays import Array, Flags, Indices


@dataclass(frozen=True)
class Edges:
    """Straight edges (n,) from (x0, y0) to (x1, y1), and the number of the box each belongs to."""

    x0: Array
    y0: Array
    x1: Array
    y1: Array
    box: Indices

    def where(self, chosen: Flags) -> Edges:
        """The chosen ones."""
        return Edges(self.x0[chosen], self.y0[chosen], self.x1[chosen], self.y1[chosen], self.box[chosen])


@dataclass(frozen=True)
class Cells:
    """What edges cover in the pixels they cross, (n,) each.

    ``place`` counts pixels row by row over all boxes side by side; ``own`` is the area below the edge in the pixel,
    ``handed_on`` what all pixels below get of it.
    """

    place: Indices
    own: Array
    handed_on: Array


def edges_of(points: Array, starts: Indices, box: Indices) -> Edges:
    """Every edge of closed outlines ``points`` (n, 2); outline k runs from ``starts[k]`` to the next start."""
    follow = np.arange(1, len(points) + 1)
    follow[np.append(starts[1:], len(points)) - 1] = starts
    x, y = points[:, 0], points[:, 1]
    return Edges(x, y, x[follow], y[follow], box)


def clipped_across(edges: Edges, widths: Array) -> Edges:
    """Edges cut to 0 <= x <= width of their box."""
    width = widths[edges.box]
    seen = (np.minimum(edges.x0, edges.x1) < width) & (np.maximum(edges.x0, edges.x1) > 0)
    edges, width = edges.where(seen), width[seen]
    run, rise = edges.x1 - edges.x0, edges.y1 - edges.y0
    run[run == 0.0] = 1.0
    x0, x1 = np.clip(edges.x0, 0.0, width), np.clip(edges.x1, 0.0, width)
    # Only what is cut moves: an end inside keeps its place to the last bit. Shares stay in [-1, 1] where a slope
    # could overflow.
    y0, y1 = edges.y0 + (x0 - edges.x0) / run * rise, edges.y1 + (x1 - edges.x1) / run * rise
    return Edges(x0, y0, x1, y1, edges.box)


def pressed_down(edges: Edges, heights: Array) -> Edges:
    """Edges cut to 0 <= y <= height of their box: what is above lies on y = 0, what is below is left out."""
    for levels in (np.zeros_like(heights), heights):
        level = levels[edges.box]
        crossing = (edges.y0 - level) * (edges.y1 - level) < 0
        if crossing.any():
            edges = _cut_at(edges, level, crossing)
    edges = edges.where(np.minimum(edges.y0, edges.y1) < heights[edges.box])
    height = heights[edges.box]
    return Edges(edges.x0, np.clip(edges.y0, 0.0, height), edges.x1, np.clip(edges.y1, 0.0, height), edges.box)


def _cut_at(edges: Edges, level: Array, crossing: Flags) -> Edges:
    """Edges with those that cross y = ``level`` (n,) in two parts, the second part of each at the end of the list."""
    x0, y0, x1, y1 = edges.x0.copy(), edges.y0.copy(), edges.x1.copy(), edges.y1.copy()
    at = level[crossing]
    middle = x0[crossing] + (at - y0[crossing]) / (y1[crossing] - y0[crossing]) * (x1[crossing] - x0[crossing])
    rest = Edges(middle, at, x1[crossing], y1[crossing], edges.box[crossing])
    x1[crossing], y1[crossing] = middle, at
    first = (x0, y0, x1, y1, edges.box)
    second = (rest.x0, rest.y0, rest.x1, rest.y1, rest.box)
    return Edges(*(np.concatenate(pair) for pair in zip(first, second, strict=True)))


def split_at_columns(edges: Edges) -> Edges:
    """Edges cut wherever they cross a whole x."""
    x0, y0 = edges.x0, edges.y0
    low, high = np.minimum(x0, edges.x1), np.maximum(x0, edges.x1)
    first, last = np.floor(low) + 1.0, np.ceil(high) - 1.0
    parts = np.maximum(last - first + 2.0, 1.0).astype(np.intp)
    ends = np.cumsum(parts) - 1
    begins = ends - parts + 1
    run, rise = edges.x1 - x0, edges.y1 - y0
    onward = np.where(run >= 0.0, 1.0, -1.0)
    begin = np.where(run >= 0.0, first, last) - onward * begins
    run[run == 0.0] = 1.0

    # Numbers picked are quicker than numbers repeated a few times each.
    pick = np.repeat(np.arange(len(parts)), parts)
    # Each part ends on a whole x, but for the last of an edge, and begins where the one before it ended.
    stop_x = onward[pick]
    stop_x *= np.arange(len(stop_x))
    stop_x += begin[pick]
    stop_x[ends] = edges.x1
    stop_y = stop_x - x0[pick]
    stop_y /= run[pick]
    stop_y *= rise[pick]
    stop_y += y0[pick]
    stop_y[ends] = edges.y1
    start_x, start_y = np.empty_like(stop_x), np.empty_like(stop_y)
    start_x[1:], start_y[1:] = stop_x[:-1], stop_y[:-1]
    start_x[begins], start_y[begins] = x0, y0
    return Edges(start_x, start_y, stop_x, stop_y, edges.box[pick])


def cells_of(edges: Edges, widths: Indices, heights: Indices) -> Cells:
    """The pixels that edges cross which cross no whole x: they are cut wherever they cross a whole y.

    Boxes of these sizes stand side by side.
    """
    box, x0, y0, x1, y1 = edges.box, edges.x0, edges.y0, edges.x1, edges.y1
    low, high = np.floor(np.minimum(y0, y1)), np.ceil(np.maximum(y0, y1))
    parts = np.maximum(high - low, 1.0).astype(np.intp)
    down = y1 >= y0
    onward = np.where(down, 1, -1)
    row = np.where(down, low, high - 1.0)
    np.maximum(np.minimum(row, (heights - 1.0)[box], out=row), 0.0, out=row)
    column = np.minimum(0.5 * (x0 + x1), (widths - 1)[box]).astype(np.intp)
    ends = np.cumsum(parts) - 1
    begins = ends - parts + 1

    # Parts that are neither the first nor the last of an edge go all the way through their row.
    many = parts > 1
    run, rise = x1 - x0, y1 - y0
    rise[~many] = np.inf
    border = row + down
    through = onward * run / rise
    crossing = x0 + (border - y0) / rise * run
    pick = np.repeat(np.arange(len(parts)), parts)
    handed_on = (0.5 * through)[pick]
    own = handed_on.copy()
    for places, width, level in (
        (
            ends,
            x1 - (crossing + through * (parts - 2)),
            0.5 * (border + onward * (parts - 2) + y1) - (row + onward * (parts - 1)),
        ),
        (begins, np.where(many, crossing, x1) - x0, 0.5 * (y0 + np.where(many, border, y1)) - row),
    ):
        handed = width * level
        handed_on[places], own[places] = handed, width - handed

    # Places go on by whole rows, and jump from the last of an edge to the first of the next.
    abreast = int(widths.sum())
    step, head = onward * abreast, (np.cumsum(widths) - widths)[box] + row.astype(np.intp) * abreast + column
    place = step[pick]
    place[begins[1:]] = head[1:] - (head + step * (parts - 1))[:-1]
    place[:1] = head[:1]
    return Cells(np.cumsum(place, out=place), own, handed_on)
