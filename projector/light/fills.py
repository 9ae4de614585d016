"""Filled outlines by exact area: each edge adds the area to its side to the pixels it crosses, and a running sum
along the rows or columns spreads it (signed-area accumulation)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.encoding import Packed
from projector.light.palette import COVERAGE_LENGTH, COVERAGE_STEPS, Palette
from projector.light.segments import Array


@dataclass(frozen=True)
class Fill:
    """Closed outlines lit as one area: ``points`` (n, 2) px; outline k runs from ``starts[k]`` to the next start.

    Non-zero winding: outlines that turn the same way join, one that turns the other way cuts a hole.
    """

    points: Array
    starts: NDArray[np.intp]
    colour: int


def edges_of(points: Array, starts: NDArray[np.intp]) -> tuple[Array, Array]:
    """The start and end (n, 2) of every edge of closed outlines."""
    follow = np.arange(1, len(points) + 1)
    follow[np.append(starts[1:], len(points)) - 1] = starts
    return points, points[follow]


def draw_fill(frame: Packed, fill: Fill, palette: Palette) -> None:
    """Raises the pixels of ``frame`` (height, width) that the outlines cover."""
    if not len(fill.points):
        return
    if not np.isfinite(fill.points).all():
        raise ValueError("an outline to be lit has a point that is not a number")
    height, width = frame.shape
    left, top = np.maximum(np.floor(fill.points.min(axis=0)), 0.0)
    right, foot = np.minimum(np.ceil(fill.points.max(axis=0)), (width, height))
    if right <= left or foot <= top:
        return
    box = (int(left), int(top), int(right - left), int(foot - top))
    begin, end = edges_of(fill.points - (left, top), fill.starts)
    cover = area_in(begin, end, box[2], box[3])
    np.abs(cover, out=cover)
    cover *= COVERAGE_STEPS
    cover += 0.5
    np.minimum(cover, COVERAGE_STEPS, out=cover)
    index = cover.astype(np.intp)
    row = palette.row_of(fill.colour)
    value = palette.by_coverage[row * COVERAGE_LENGTH :][index]
    part = frame[box[1] : box[1] + box[3], box[0] : box[0] + box[2]]
    np.maximum(part, value, out=part)


def area_in(begin: Array, end: Array, width: int, height: int) -> NDArray[np.float32]:
    """Signed area (height, width) covered in each pixel of a box with its corner at the origin.

    ``begin`` and ``end`` (n, 2) are the edges of closed outlines; what lies outside the box is left out rightly.
    """
    # The sum runs down the columns: edges matter by their extent in x, and what is above the box by its shadow.
    begin, end = _clip_across(begin, end, width)
    for edge in (0.0, float(height)):
        begin, end = _cut_at(begin, end, edge)
    below = np.minimum(begin[:, 1], end[:, 1]) < height
    begin, end = begin[below], end[below]
    begin[:, 1].clip(0.0, height, out=begin[:, 1])
    end[:, 1].clip(0.0, height, out=end[:, 1])
    begin, end = _split(*_split(begin, end, 0), 1)
    run = end[:, 0] - begin[:, 0]
    middle = 0.5 * (begin + end)
    column = np.minimum(np.floor(middle[:, 0]).astype(np.intp), width - 1)
    row = np.floor(middle[:, 1]).astype(np.intp)
    share = run * (middle[:, 1] - row)
    place = row * width + column
    size = (height + 2) * width
    sums = np.bincount(place, run - share, size) + np.bincount(place + width, share, size)
    cover = sums.reshape(height + 2, width)[:height].astype(np.float32)
    for line in range(1, height):
        np.add(cover[line - 1], cover[line], out=cover[line])
    return cover


def _clip_across(begin: Array, end: Array, width: int) -> tuple[Array, Array]:
    """Edges cut to 0 <= x <= width."""
    seen = (np.minimum(begin[:, 0], end[:, 0]) < width) & (np.maximum(begin[:, 0], end[:, 0]) > 0)
    seen &= begin[:, 0] != end[:, 0]
    begin, end = begin[seen], end[seen]
    run = end - begin
    slope = run[:, 1] / run[:, 0]
    ends = []
    for point in (begin, end):
        x = point[:, 0].clip(0.0, width)
        ends.append(np.column_stack([x, point[:, 1] + slope * (x - point[:, 0])]))
    return ends[0], ends[1]


def _cut_at(begin: Array, end: Array, level: float) -> tuple[Array, Array]:
    """Edges cut in two where they cross y = level."""
    crossing = (begin[:, 1] - level) * (end[:, 1] - level) < 0
    if not crossing.any():
        return begin, end
    a, b = begin[crossing], end[crossing]
    share = (level - a[:, 1]) / (b[:, 1] - a[:, 1])
    middle = np.column_stack([a[:, 0] + share * (b[:, 0] - a[:, 0]), np.full(len(a), level)])
    stays = ~crossing
    return np.concatenate([begin[stays], a, middle]), np.concatenate([end[stays], middle, b])


def _split(begin: Array, end: Array, axis: int) -> tuple[Array, Array]:
    """Edges cut wherever they cross a whole number on this axis."""
    low = np.minimum(begin[:, axis], end[:, axis])
    high = np.maximum(begin[:, axis], end[:, axis])
    first = np.floor(low) + 1.0
    cuts = np.maximum(np.ceil(high) - first, 0.0).astype(np.intp)
    pick = np.repeat(np.arange(len(cuts)), cuts + 1)
    number = np.arange(len(pick)) - (np.cumsum(cuts + 1) - cuts - 1)[pick]
    up = (end[:, axis] >= begin[:, axis])[pick]
    a, b = begin[pick], end[pick]
    lower, upper = np.where(up[:, None], a, b), np.where(up[:, None], b, a)
    run = upper - lower
    span = np.where(run[:, axis] > 0, run[:, axis], 1.0)
    from_cut, to_cut = first[pick] + number - 1.0, first[pick] + number
    from_share = np.where(number > 0, (from_cut - lower[:, axis]) / span, 0.0)
    to_share = np.where(number < cuts[pick], (to_cut - lower[:, axis]) / span, 1.0)
    start, stop = lower + run * from_share[:, None], lower + run * to_share[:, None]
    return np.where(up[:, None], start, stop), np.where(up[:, None], stop, start)
