"""Filled outlines by exact area, many at once.

Each edge adds the area below it to the pixels it crosses, and a running sum down the columns spreads it (signed-area
accumulation): what is left in a pixel is winding number times covered area.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.edges import Edges, clipped_across, edges_of, pressed_down, split_at_columns
from projector.light.encoding import Packed
from projector.light.palette import COVERAGE_LENGTH, COVERAGE_STEPS, Palette
from projector.light.segments import Array

Indices = NDArray[np.intp]

BATCH_PX = 400_000
"""Pixels worked on at a time, so that working memory stays small however much is lit."""
BY_ROWS_FROM = 64
"""Boxes this wide are summed row by row in whole rows, which is faster than pixel by pixel down the columns."""


@dataclass(frozen=True)
class Fill:
    """Closed outlines lit as one area: ``points`` (n, 2) px; outline k runs from ``starts[k]`` to the next start.

    Non-zero winding for outlines that do not overlap against each other: those that turn the same way join, one that
    turns the other way cuts a hole.
    """

    points: Array
    starts: Indices
    colour: int


@dataclass(frozen=True)
class _Box:
    """The part of a frame that a fill touches."""

    left: int
    top: int
    width: int
    height: int

    @property
    def cells(self) -> int:
        # One row below the box takes what its last row hands on.
        return self.width * (self.height + 1)


def draw_fills(frame: Packed, fills: Sequence[Fill], palette: Palette) -> None:
    """Raises the pixels of ``frame`` (height, width) that the fills cover; the most covered wins.

    Raises ValueError for points that are not numbers.
    """
    seen = [(fill, box) for fill in fills if (box := _box_of(fill, frame.shape[1], frame.shape[0])) is not None]
    begin = total = 0
    for number, (_, box) in enumerate(seen):
        if total and total + box.cells > BATCH_PX:
            _draw_batch(frame, seen[begin:number], palette)
            begin, total = number, 0
        total += box.cells
    if total:
        _draw_batch(frame, seen[begin:], palette)


def _box_of(fill: Fill, width: int, height: int) -> _Box | None:
    if not len(fill.points):
        return None
    if not np.isfinite(fill.points).all():
        raise ValueError("an outline to be lit has a point that is not a number")
    left, top = np.maximum(np.floor(fill.points.min(axis=0)), 0.0)
    right, foot = np.minimum(np.ceil(fill.points.max(axis=0)), (width, height))
    return _Box(int(left), int(top), int(right - left), int(foot - top)) if right > left and foot > top else None


def _draw_batch(frame: Packed, batch: Sequence[tuple[Fill, _Box]], palette: Palette) -> None:
    sizes = [len(fill.points) for fill, _ in batch]
    points = np.concatenate([fill.points - (box.left, box.top) for fill, box in batch])
    firsts = np.cumsum(sizes) - sizes
    starts = np.concatenate([fill.starts + first for (fill, _), first in zip(batch, firsts, strict=True)])
    edges = edges_of(points, starts, np.repeat(np.arange(len(batch)), sizes))
    cells = np.array([box.cells for _, box in batch])
    offsets = np.cumsum(cells) - cells
    sums = _areas_below(edges, [box for _, box in batch], offsets, int(cells.sum()))
    for (fill, box), offset in zip(batch, offsets, strict=True):
        cover = sums[offset : offset + box.width * box.height].reshape(box.height, box.width).astype(np.float32)
        part = frame[box.top : box.top + box.height, box.left : box.left + box.width]
        _light(part, _summed_down(cover), palette, fill.colour)


def _areas_below(edges: Edges, boxes: Sequence[_Box], offsets: Indices, cells: int) -> Array:
    """What each edge adds to the pixels it crosses and to those below them, boxes one after the other."""
    widths = np.array([float(box.width) for box in boxes])
    heights = np.array([float(box.height) for box in boxes])
    edges = pressed_down(clipped_across(edges, widths), heights)
    parts = split_at_columns(split_at_columns(edges).turned).turned
    run = parts.x1 - parts.x0
    stride = widths[parts.box]
    column = np.minimum(np.floor(0.5 * (parts.x0 + parts.x1)), stride - 1.0)
    level = 0.5 * (parts.y0 + parts.y1)
    row = np.minimum(np.floor(level), heights[parts.box] - 1.0)
    handed_on = run * (level - row)
    place = offsets[parts.box] + (row * stride + column).astype(np.intp)
    sums: Array = np.bincount(place, run - handed_on, cells).astype(np.float64)
    sums += np.bincount(place + stride.astype(np.intp), handed_on, cells)
    return sums


def _summed_down(cover: NDArray[np.float32]) -> NDArray[np.float32]:
    if cover.shape[1] < BY_ROWS_FROM:
        return np.add.accumulate(cover, axis=0, out=cover)
    for line in range(1, len(cover)):
        np.add(cover[line - 1], cover[line], out=cover[line])
    return cover


def _light(part: Packed, cover: NDArray[np.float32], palette: Palette, colour: int) -> None:
    np.abs(cover, out=cover)
    cover *= COVERAGE_STEPS
    cover += 0.5
    np.minimum(cover, COVERAGE_STEPS, out=cover)
    row = palette.row_of(colour)
    values = palette.by_coverage[row * COVERAGE_LENGTH : (row + 1) * COVERAGE_LENGTH]
    np.maximum(part, np.take(values, cover.astype(np.intp), mode="clip"), out=part)
