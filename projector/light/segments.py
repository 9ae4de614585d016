"""Strokes of a scene as straight segments in table inches, many at once: dashes of line types, and hatching."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain

import numpy as np

from projector.light.raster.arrays import Array, Flags, Indices
from projector.light.styles import Style
from projector.scene.marks import Point

LEAST_IN = 1e-9
"""A segment shorter than this has no direction worth the name and is left out."""


@dataclass(frozen=True)
class Segments:
    """Segments (n,): ``starts`` and ``ends`` (n, 2) inches, ``phases`` the arc length of the stroke at its start,
    ``styles`` the number of the style, ``joined`` (n, 2) whether the line goes on beyond start and end, ``strokes``
    the number of the stroke each is a part of."""

    starts: Array
    ends: Array
    phases: Array
    styles: Indices
    joined: Flags
    strokes: Indices

    def __len__(self) -> int:
        return len(self.starts)

    @property
    def lengths(self) -> Array:
        """Length of each segment in inches."""
        return np.hypot(*(self.ends - self.starts).T)

    def where(self, chosen: Flags | Indices) -> Segments:
        """The chosen ones."""
        return Segments(
            self.starts[chosen],
            self.ends[chosen],
            self.phases[chosen],
            self.styles[chosen],
            self.joined[chosen],
            self.strokes[chosen],
        )

    @classmethod
    def together(cls, *parts: Segments) -> Segments:
        """All of them, one after the other."""
        return cls(
            np.concatenate([part.starts for part in parts]),
            np.concatenate([part.ends for part in parts]),
            np.concatenate([part.phases for part in parts]),
            np.concatenate([part.styles for part in parts]),
            np.concatenate([part.joined for part in parts]),
            np.concatenate([part.strokes for part in parts]),
        )

    @property
    def long_enough(self) -> Segments:
        """Those that have a direction: a dash that begins where its segment ends may be left without length."""
        chosen = self.lengths > LEAST_IN
        return self if chosen.all() else self.where(chosen)

    def moved(self, motion: Array) -> Segments:
        """The segments moved by an affine map (2, 3) of table inches, which keeps their phases."""
        return replace(self, starts=_moved(self.starts, motion), ends=_moved(self.ends, motion))

    def between(self, pick: Indices, start: Array, stop: Array) -> Segments:
        """Parts of the segments ``pick``, from ``start`` to ``stop`` as shares from 0 to 1; one cut short is not joined
        there."""
        run, begin, whole = (self.ends - self.starts)[pick], self.starts[pick], stop >= 1.0
        ends = begin + run * stop[:, None]
        ends[whole] = self.ends[pick[whole]]
        return Segments(
            begin + run * start[:, None],
            ends,
            self.phases[pick] + self.lengths[pick] * start,
            self.styles[pick],
            self.joined[pick] & np.column_stack([start <= 0.0, whole]),
            self.strokes[pick],
        )


def segments_of(polylines: Sequence[Sequence[Point]], styles: Sequence[int]) -> Segments:
    """Segments of polylines with the number of the style of each.

    A polyline that ends where it began is closed: its ends are joined.
    """
    sizes = np.array([len(points) for points in polylines], np.intp)
    flat = chain.from_iterable(chain.from_iterable(polylines))
    points = np.fromiter(flat, np.float64, 2 * int(sizes.sum())).reshape(-1, 2)
    stroke = np.repeat(np.arange(len(sizes)), sizes)
    whole = (stroke[1:] == stroke[:-1]) & (np.abs(points[1:] - points[:-1]) > LEAST_IN).any(axis=1)
    begin = np.flatnonzero(whole)
    stroke = stroke[begin]
    starts, ends = points[begin], points[begin + 1]
    lengths = np.hypot(*(ends - starts).T)
    total = np.cumsum(lengths) - lengths
    first = np.diff(stroke, prepend=-1) != 0
    last = np.diff(stroke, append=-1) != 0
    head = np.flatnonzero(first)[np.cumsum(first) - 1] if len(first) else np.zeros(0, np.intp)
    tail = np.flatnonzero(last)[np.cumsum(first) - 1] if len(first) else np.zeros(0, np.intp)
    closed = (starts[head] == ends[tail]).all(axis=1)
    own = np.array(styles, np.intp)[stroke]
    return Segments(starts, ends, total - total[head], own, np.column_stack([~first | closed, ~last | closed]), stroke)


def _moved(points: Array, motion: Array) -> Array:
    """Points (n, 2) under an affine map (2, 3)."""
    return points @ motion[:, :2].T + motion[:, 2]


def dashed(segments: Segments, styles: Sequence[Style]) -> Segments:
    """The lit parts of all segments: the unbroken ones first, then dashes.

    A pattern begins at the stroke's first point and runs on through its bends, so dots keep their place on the cloth
    when the view changes.
    """
    broken = np.array([bool(style.dashes_in) for style in styles], np.bool_)[segments.styles]
    if not broken.any():
        return segments
    whole, dashes = segments.where(~broken), _dashes(segments.where(broken), styles)
    return Segments.together(whole, dashes)


def _dashes(segments: Segments, styles: Sequence[Style]) -> Segments:
    """The dashes of segments that all have some."""
    ends = [np.concatenate([[0.0], np.cumsum(style.dashes_in)]) for style in styles]
    begins = np.concatenate([marks[:-1:2] for marks in ends])
    stops = np.concatenate([marks[1::2] for marks in ends])
    dashes = np.array([len(style.dashes_in) // 2 for style in styles])
    before = (np.cumsum(dashes) - dashes)[segments.styles]
    each = dashes[segments.styles]
    period = np.array([marks[-1] for marks in ends])[segments.styles]

    length = segments.lengths
    first = np.floor(segments.phases / period)
    count = each * ((np.floor((segments.phases + length) / period) - first).astype(np.intp) + 1)
    pick = np.repeat(np.arange(len(segments)), count)
    number = np.arange(len(pick)) - (np.cumsum(count) - count)[pick]
    turn, dash = np.divmod(number, each[pick])
    # Inches from the segment's start to the start of the period that each dash belongs to.
    base = (first * period - segments.phases)[pick] + turn * period[pick]
    dash += before[pick]
    along = length[pick]
    start, stop = np.maximum((base + begins[dash]) / along, 0.0), np.minimum((base + stops[dash]) / along, 1.0)
    seen = start < stop
    # A dash that begins or ends exactly at a bend is cut off there; one that runs through it goes on.
    return segments.between(pick[seen], start[seen], stop[seen])


SPACING_IN = 1.5
ANGLE_DEG = 45.0


def hatch(
    outline: Sequence[Point], spacing_in: float = SPACING_IN, angle_deg: float = ANGLE_DEG
) -> list[tuple[Point, Point]]:
    """Strokes across a simple polygon (table inches), parallel, the first half a space in from its lowest corner.

    Even-odd rule, so that a polygon that bends inwards is filled rightly; outlines without area give nothing.
    """
    points = np.array(outline, np.float64).reshape(-1, 2)
    if len(points) < 3:
        return []
    turn = np.radians(angle_deg)
    along, across = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    level = points @ across
    reach = points @ along
    strokes: list[tuple[Point, Point]] = []
    for height in np.arange(level.min() + spacing_in / 2, level.max(), spacing_in):
        a, b = level - height, np.roll(level, -1) - height
        # A corner exactly on the line counts with the edge above it, so that crossings come in pairs.
        crossing = (a >= 0) != (b >= 0)
        share = a[crossing] / (a[crossing] - b[crossing])
        places = np.sort(reach[crossing] + share * (np.roll(reach, -1) - reach)[crossing])
        for start, stop in zip(places[::2], places[1::2], strict=True):
            p, q = along * start + across * height, along * stop + across * height
            strokes.append(((float(p[0]), float(p[1])), (float(q[0]), float(q[1]))))
    return strokes
