"""Filled outlines by exact area, many at once.

Each edge adds the area below it to the pixels it crosses, and a running sum down the columns spreads it (signed-area
accumulation): what is left in a pixel is winding number times covered area. A pixel that no edge crosses is wholly
inside or wholly outside; only the others are looked up one by one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from projector.light.raster.arrays import Array, Indices, Singles
from projector.light.raster.edges import Cells, cells_of, clipped_across, edges_of, pressed_down, split_at_columns
from projector.light.raster.frame import MARGIN, FlatFrame
from projector.light.raster.palette import COVERAGE_LENGTH, COVERAGE_STEPS, Palette

MOST_ABREAST = 16_384
"""Columns of the boxes that stand side by side while they are summed, but for one box that is wider."""
BAND_PX = 262_144
"""Pixels summed at a time: few enough to stay in a core's cache."""


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
class Box:
    """The part of a frame that a fill touches; ``whole`` where nothing of it lies outside."""

    left: int
    top: int
    width: int
    height: int
    whole: bool


Boxed = tuple[Fill, Box]


def boxed(fills: Sequence[Fill], width_px: int, height_px: int) -> list[Boxed]:
    """The fills that a frame of this size shows, with their boxes. Raises ValueError for points that are no numbers."""
    fills = [fill for fill in fills if len(fill.points)]
    if not fills:
        return []
    begins = np.cumsum([0, *(len(fill.points) for fill in fills[:-1])])
    points = np.concatenate([fill.points for fill in fills])
    low, high = np.floor(np.minimum.reduceat(points, begins)), np.ceil(np.maximum.reduceat(points, begins))
    if not np.isfinite(low + high).all():
        raise ValueError("an outline to be lit has a point that is not a number")
    size = (width_px, height_px)
    first, last = np.clip(low, 0.0, size).astype(np.intp), np.clip(high, 0.0, size).astype(np.intp)
    whole = ((first == low) & (last == high)).all(axis=1).tolist()
    return [
        (fill, Box(left, top, right - left, foot - top, is_whole))
        for fill, (left, top), (right, foot), is_whole in zip(fills, first.tolist(), last.tolist(), whole, strict=True)
        if right > left and foot > top
    ]


def draw_fills(frame: FlatFrame, fills: Sequence[Boxed], palette: Palette) -> None:
    """Lights fills in their boxes on a frame that is dark there but for other fills; the most covered wins."""
    palette.rows_of(np.array([fill.colour for fill, _ in fills], np.uint32))
    # Of two that cover a pixel wholly the greater value wins: it is written last.
    for colour in sorted({fill.colour for fill, _ in fills}):
        for abreast in _abreast([boxed for boxed in fills if boxed[0].colour == colour]):
            _draw_abreast(frame, abreast, palette, colour)


def _abreast(fills: list[Boxed]) -> Iterator[list[Boxed]]:
    """Fills whose boxes are summed side by side, the tallest first."""
    fills.sort(key=lambda boxed: -boxed[1].height)
    first, width = 0, 0
    for number, (_, box) in enumerate(fills):
        if number > first and width + box.width > MOST_ABREAST:
            yield fills[first:number]
            first, width = number, 0
        width += box.width
    yield fills[first:]


def _draw_abreast(frame: FlatFrame, fills: Sequence[Boxed], palette: Palette, colour: int) -> None:
    boxes = [box for _, box in fills]
    ends = np.cumsum([box.width for box in boxes])
    abreast, tallest = int(ends[-1]), boxes[0].height
    rows = max(BAND_PX // abreast, 1)
    cells, begins = _by_bands(_cells(fills), rows * abreast, -(-tallest // rows))
    covered = np.empty(len(cells.place), np.float32)
    table = palette.by_coverage[palette.row_of(colour) * COVERAGE_LENGTH :][:COVERAGE_LENGTH]
    # The last row is for what the band hands on to the next.
    sums = np.zeros((rows + 1, abreast), np.float32)
    flat, above = sums.reshape(-1), np.zeros(abreast, np.float32)
    for band, top in enumerate(range(0, tallest, rows)):
        mine = slice(begins[band], begins[band + 1])
        standing = sum(box.height > top for box in boxes)
        width, count = int(ends[standing - 1]), min(rows, tallest - top)
        sums[0, :width] = sums[rows, :width]
        sums[1:, :width] = 0.0
        crossed = cells.place[mine] - band * rows * abreast
        np.add.at(flat, crossed, cells.own[mine])
        np.add.at(flat, crossed + abreast, cells.handed_on[mine])
        part, before = sums[:count, :width], above[:width]
        for row in part:
            before = np.add(before, row, row)
        above[:width] = before
        covered[mine] = flat.take(crossed)
        flat[crossed] = 0.0
        inside = np.abs(part, part) > COVERAGE_STEPS / 2
        for box, end in zip(boxes[:standing], ends, strict=False):
            height = min(count, box.height - top)
            lit = frame.inner[box.top + top : box.top + top + height, box.left : box.left + box.width]
            np.copyto(lit, table[-1], where=inside[:height, end - box.width : end])
    # Where outlines overlap the winding number passes one, and the look-up stops at the table's end.
    values = table.take(np.abs(covered).astype(np.int32).astype(np.intp), mode="clip")
    row = cells.place // abreast
    # Where the frame has the first row of each column of the boxes.
    heads = [frame.stride * (box.top + MARGIN) + box.left + MARGIN + np.arange(box.width) for box in boxes]
    frame.raise_to(row * frame.stride + np.concatenate(heads)[cells.place - row * abreast], values)


def _cells(fills: Sequence[Boxed]) -> Cells:
    """The pixels that edges cross, boxes side by side."""
    sizes = np.array([len(fill.points) for fill, _ in fills])
    firsts = np.cumsum(sizes) - sizes
    box = np.repeat(np.arange(len(fills)), sizes)
    corner, width, height = (
        np.array(of) for of in zip(*(((b.left, b.top), b.width, b.height) for _, b in fills), strict=True)
    )
    points = np.concatenate([fill.points for fill, _ in fills]) - corner[box]
    starts = np.concatenate([fill.starts + first for (fill, _), first in zip(fills, firsts, strict=True)])
    edges = edges_of(points, starts, box)
    if not all(one.whole for _, one in fills):
        edges = pressed_down(clipped_across(edges, width.astype(np.float64)), height.astype(np.float64))
    return cells_of(split_at_columns(edges), width, height)


def _by_bands(cells: Cells, size: int, bands: int) -> tuple[_Sorted, list[int]]:
    """The cells sorted by bands of so many places, and where each band begins."""
    band = (cells.place // size).astype(np.uint8 if bands < 256 else np.uint16)
    order = np.argsort(band, kind="stable")
    own, handed_on = ((areas[order] * COVERAGE_STEPS).astype(np.float32) for areas in (cells.own, cells.handed_on))
    begins = np.cumsum(np.bincount(band, minlength=bands))
    return _Sorted(cells.place[order], own, handed_on), [0, *begins.tolist()]


@dataclass(frozen=True)
class _Sorted:
    """Cells in the order they are summed in; areas in steps of the coverage table."""

    place: Indices
    own: Singles
    handed_on: Singles
