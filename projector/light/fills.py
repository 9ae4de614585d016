"""Filled outlines by exact area, many at once, and those of the last frame kept as pixel values.

Each edge adds the area below it to the pixels it crosses, and a running sum down the columns spreads it (signed-area
accumulation): what is left in a pixel is winding number times covered area.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from projector.light.arrays import Array, Indices, Packed, Singles
from projector.light.edges import Edges, cell_areas, clipped_across, edges_of, pressed_down, split_at_columns
from projector.light.frame import MARGIN, Touched
from projector.light.palette import COVERAGE_LENGTH, COVERAGE_STEPS, Palette

BATCH_PX = 400_000
"""Pixels worked on at a time, so that working memory stays small however much is lit."""
STRIP_PX = 16384
"""Pixels turned from areas to values at a time: few enough to stay in a core's cache."""
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

    def of(self, frame: Packed) -> Packed:
        return frame[self.top : self.top + self.height, self.left : self.left + self.width]


MOST_PX = 6_000_000
"""Pixels kept at most, 4 bytes each."""


@dataclass
class CachedFill:
    """What a fill of these ``points``, in this colour of this palette, lights.

    ``values`` (height, width) are there from the second frame on, for what moves is never lit twice alike; ``ready``
    once they hold what is lit.
    """

    points: Array
    colour: int
    palette: Palette
    values: Packed | None = None
    ready: bool = False

    def is_of(self, points: Array, colour: int, palette: Palette) -> bool:
        """Whether this is of these very points: held here, no others can have their place in memory."""
        return self.points is points and self.colour == colour and self.palette is palette


class FillCache:
    """The fills of the last frame and of the one being drawn."""

    def __init__(self) -> None:
        self._last: dict[int, CachedFill] = {}
        self._now: dict[int, CachedFill] = {}
        self._count = 0

    def begin(self) -> None:
        """A frame begins: what was not lit in the last one is let go."""
        self._last, self._now, self._count = self._now, {}, 0

    def of(self, points: Array, colour: int, palette: Palette, shape: tuple[int, int]) -> CachedFill:
        """What is kept of a fill that covers so many rows and columns; not ready when it is to be drawn."""
        kept = self._last.get(id(points))
        if kept is None or not kept.is_of(points, colour, palette):
            kept = CachedFill(points, colour, palette)
        elif kept.values is None and self._count + shape[0] * shape[1] <= MOST_PX:
            kept = CachedFill(points, colour, palette, np.empty(shape, np.uint32))
        if kept.values is not None:
            self._count += kept.values.size
        self._now[id(points)] = kept
        return kept


_Drawn = tuple[Fill, _Box, CachedFill]


class FillScratch:
    """Working memory for filling, kept between frames: fresh memory costs more than the arithmetic."""

    def __init__(self) -> None:
        self.areas = np.zeros(BATCH_PX, np.float32)
        self.index = np.empty(STRIP_PX, np.intp)
        self.value = np.empty(STRIP_PX, np.uint32)
        self.cache = FillCache()

    def dark_areas(self, cells: int) -> Singles:
        """``cells`` zeros."""
        if cells > len(self.areas):
            self.areas = np.zeros(cells, np.float32)
        areas = self.areas[:cells]
        areas.fill(0.0)
        return areas


def draw_fills(frame: Packed, fills: Sequence[Fill], palette: Palette, scratch: FillScratch, touched: Touched) -> None:
    """Raises the pixels of ``frame`` (height, width, without its margin) that the fills cover; the most covered wins.

    Raises ValueError for points that are not numbers.
    """
    seen = [(fill, box) for fill in fills if (box := _box_of(fill, frame.shape[1], frame.shape[0])) is not None]
    palette.rows_of(np.array([fill.colour for fill, _ in seen], np.uint32))
    touched.expect(sum(box.cells for _, box in seen))
    batch: list[_Drawn] = []
    total = 0
    for fill, box in seen:
        touched.area(box.top + MARGIN, box.left + MARGIN, box.height, box.width)
        kept = scratch.cache.of(fill.points, fill.colour, palette, (box.height, box.width))
        if kept.values is not None and kept.ready:
            part = box.of(frame)
            np.maximum(part, kept.values, out=part)
            continue
        if batch and total + box.cells > BATCH_PX:
            _draw_batch(frame, batch, palette, scratch)
            batch, total = [], 0
        batch.append((fill, box, kept))
        total += box.cells
    if batch:
        _draw_batch(frame, batch, palette, scratch)


def _box_of(fill: Fill, width: int, height: int) -> _Box | None:
    if not len(fill.points):
        return None
    if not np.isfinite(fill.points).all():
        raise ValueError("an outline to be lit has a point that is not a number")
    left, top = np.maximum(np.floor(fill.points.min(axis=0)), 0.0)
    right, foot = np.minimum(np.ceil(fill.points.max(axis=0)), (width, height))
    return _Box(int(left), int(top), int(right - left), int(foot - top)) if right > left and foot > top else None


def _draw_batch(frame: Packed, batch: Sequence[_Drawn], palette: Palette, scratch: FillScratch) -> None:
    fills, boxes = [fill for fill, _, _ in batch], [box for _, box, _ in batch]
    sizes = [len(fill.points) for fill in fills]
    points = np.concatenate([fill.points - (box.left, box.top) for fill, box, _ in batch])
    firsts = np.cumsum(sizes) - sizes
    starts = np.concatenate([fill.starts + first for fill, first in zip(fills, firsts, strict=True)])
    edges = edges_of(points, starts, np.repeat(np.arange(len(batch)), sizes))
    cells = np.array([box.cells for box in boxes])
    offsets = np.cumsum(cells) - cells
    areas = scratch.dark_areas(int(cells.sum()))
    _add_areas(areas, edges, boxes, offsets)
    for (fill, box, kept), offset in zip(batch, offsets, strict=True):
        cover = areas[offset : offset + box.width * box.height].reshape(box.height, box.width)
        _sum_down(cover)
        part = box.of(frame)
        rows = max(STRIP_PX // box.width, 1)
        for top in range(0, box.height, rows):
            value = _lit(cover[top : top + rows], palette, fill.colour, scratch)
            np.maximum(part[top : top + rows], value, out=part[top : top + rows])
            if kept.values is not None:
                kept.values[top : top + rows] = value
        kept.ready = kept.values is not None


def _add_areas(areas: Singles, edges: Edges, boxes: Sequence[_Box], offsets: Indices) -> None:
    """Adds what each edge covers in the pixels it crosses and hands on to those below, boxes one after the other.

    Areas are counted in steps of the coverage table.
    """
    widths, heights = np.array([box.width for box in boxes]), np.array([float(box.height) for box in boxes])
    edges = pressed_down(clipped_across(edges, widths.astype(np.float64)), heights)
    places, below, own, handed_on = cell_areas(split_at_columns(edges), widths, heights, offsets)
    np.add.at(areas, places, (own * COVERAGE_STEPS).astype(np.float32))
    np.add.at(areas, below, (handed_on * COVERAGE_STEPS).astype(np.float32))


def _sum_down(cover: Singles) -> None:
    if cover.shape[1] < BY_ROWS_FROM:
        np.add.accumulate(cover, axis=0, out=cover)
        return
    for line in range(1, len(cover)):
        np.add(cover[line - 1], cover[line], out=cover[line])


def _lit(cover: Singles, palette: Palette, colour: int, scratch: FillScratch) -> Packed:
    """Pixel values of covered areas; good until the next call."""
    if cover.size > STRIP_PX:  # one row of a very wide box
        index, value = np.empty(cover.shape, np.intp), np.empty(cover.shape, np.uint32)
    else:
        index = scratch.index[: cover.size].reshape(cover.shape)
        value = scratch.value[: cover.size].reshape(cover.shape)
    np.abs(cover, out=cover)
    np.copyto(index, cover, casting="unsafe")
    row = palette.row_of(colour)
    # Where outlines overlap the winding number passes one, and the look-up stops at the table's end.
    np.take(palette.by_coverage[row * COVERAGE_LENGTH : (row + 1) * COVERAGE_LENGTH], index, out=value, mode="clip")
    return value
