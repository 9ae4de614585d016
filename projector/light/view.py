"""What of the table a frame can show, and how inches there become pixels."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from calibration.lens import Lens
from calibration.lines import pieces_within
from calibration.table import Table
from projector.light.raster.arrays import Array
from projector.light.segments import Segments

NEAR_HORIZON = 0.02
"""Lines end where the map's denominator falls to this share of its value at the middle of the frame: well short of
the horizon, and farther out than any table is lit."""
MARGIN_PX = 64.0
LENS_MARGIN = 0.25
BEND_PX = 0.05
"""Farthest that a line bent by the lens may lie from the straight pieces it is drawn with."""


@dataclass(frozen=True)
class View:
    """A table as a frame shows it. ``limits`` (n, 3): rows that must be positive on (x, y, 1) for what is drawn."""

    table: Table
    limits: Array

    @property
    def bends(self) -> bool:
        """Whether straight lines on the table are curves in the frame."""
        return self.table.lens is not None and not self.table.lens.is_plain


def view_of(table: Table) -> View:
    """The view of a table, clipped to a margin around its frame and short of the horizon."""
    plain = table.lens is None or table.lens.is_plain
    margin = MARGIN_PX + (0.0 if plain else LENS_MARGIN * max(table.width_px, table.height_px))
    matrix = np.asarray(table.matrix) * table.side
    u, v, w = matrix
    middle = np.linalg.solve(matrix, [table.width_px / 2, table.height_px / 2, 1.0])
    # The homogeneous table point of the middle pixel is scaled to (x, y, 1), so its denominator is 1 over the last.
    nearest = NEAR_HORIZON / abs(middle[2])
    limits = [
        w - np.array([0.0, 0.0, nearest]),
        u + margin * w,
        (table.width_px + margin) * w - u,
        v + margin * w,
        (table.height_px + margin) * w - v,
    ]
    if table.lens is not None and np.isfinite(table.lens.reach_r):
        limits += _reach(u, v, w, table.lens)
    return View(table, np.array(limits))


def _reach(u: Array, v: Array, w: Array, lens: Lens) -> list[Array]:
    """Limits that keep to a polygon inside the circle within which the lens term holds."""
    sides = 32
    radius = lens.reach_r * lens.focal_px * np.cos(np.pi / sides) * 0.999
    x, y = lens.centre_px
    turns = np.arange(sides) * (2 * np.pi / sides)
    return [radius * w - np.cos(turn) * (u - x * w) - np.sin(turn) * (v - y * w) for turn in turns]


def clipped(segments: Segments, view: View) -> Segments:
    """The parts of the segments that the frame can show, cut on the table before anything is mapped."""
    start, stop = (view.limits[:, :2] @ ends.T + view.limits[:, 2:] for ends in (segments.starts, segments.ends))
    whole = np.minimum(start, stop).min(axis=0) >= 0
    if whole.all():
        return segments
    crossing = np.flatnonzero(~whole)
    return Segments.together(
        segments.where(np.flatnonzero(whole)), _cut(segments.where(crossing), start[:, crossing], stop[:, crossing])
    )


def _cut(segments: Segments, start: Array, stop: Array) -> Segments:
    """The parts of segments where all limits are positive: ``start`` and ``stop`` (limits, n) are these at both
    ends."""
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = start / (start - stop)
    low = np.where((start < 0) & (stop >= 0), crossing, 0.0).max(axis=0, initial=0.0)
    high = np.where((stop < 0) & (start >= 0), crossing, 1.0).min(axis=0, initial=1.0)
    seen = np.flatnonzero(~((start < 0) & (stop < 0)).any(axis=0) & (low < high))
    return segments.between(seen, low[seen], high[seen]).long_enough


def straightened(segments: Segments, view: View) -> Segments:
    """The segments in pieces that are straight in the frame to ``BEND_PX``; the same where no lens bends them."""
    if not view.bends or not len(segments):
        return segments
    count = pieces_within(view.table, segments.starts, segments.ends, BEND_PX)
    pick = np.repeat(np.arange(len(segments)), count)
    number = np.arange(len(pick)) - (np.cumsum(count) - count)[pick]
    first, last = number == 0, number + 1 == count[pick]
    start = np.where(first, 0.0, number / count[pick])
    stop = np.where(last, 1.0, (number + 1) / count[pick])
    parts = segments.between(pick, start, stop)
    own = segments.joined[pick]
    joined = np.column_stack([np.where(first, own[:, 0], True), np.where(last, own[:, 1], True)])
    return replace(parts, joined=joined)


def in_pixels(segments: Segments, widths_in: Array, view: View) -> tuple[Array, Array]:
    """Both ends (2, n, 2) of segments in pixels, and their widths (n, 2) there when they are ``widths_in`` (n,) wide.

    A strip of width w along the unit vector d becomes w |det J| / |J d| wide, J being the map's derivative there. Of a
    plane map, with p = (u, v, w) of a point and (u', v', w') of a direction, J d is (u' - u w'/w, v' - v w'/w) / w, and
    det J is the matrix's determinant / w^3.
    """
    both = np.stack([segments.starts, segments.ends])
    direction = (both[1] - both[0]).T
    direction = direction / np.sqrt(direction[0] * direction[0] + direction[1] * direction[1])
    if view.table.lens is not None:
        local = view.table.jacobian(both.reshape(-1, 2)).reshape(2, -1, 4)
        ux, uy, vx, vy = np.moveaxis(local, 2, 0)
        x, y = direction
        area, along = ux * vy - uy * vx, np.hypot(ux * x + uy * y, vx * x + vy * y)
        return view.table.to_frame(both.reshape(-1, 2)).reshape(2, -1, 2), (widths_in * np.abs(area) / along).T
    matrix = view.table.matrix
    x, y = both[..., 0], both[..., 1]
    u, v, w = (a * x + b * y + c for a, b, c in matrix)
    if not (w * view.table.side > 0).all():
        raise ValueError("a line to be lit reaches the horizon")
    pixels = np.empty_like(both)
    u, v = np.divide(u, w, out=pixels[..., 0]), np.divide(v, w, out=pixels[..., 1])
    across, down, ahead = matrix[:, :2] @ direction
    along, aside = across - u * ahead, down - v * ahead
    widths = widths_in * abs(np.linalg.det(matrix)) / (np.sqrt(along * along + aside * aside) * w * w)
    return pixels, widths.T
