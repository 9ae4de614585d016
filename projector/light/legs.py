"""Straight legs of strokes in table inches, many at once, with the place of each along its stroke."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.segments import Array
from projector.scene.marks import Point

LEAST_IN = 1e-9
"""A leg shorter than this has no direction worth the name and is left out."""


@dataclass(frozen=True)
class Legs:
    """Legs (n,): ``starts`` and ``ends`` (n, 2) inches, ``phases`` the arc length of the stroke at the leg's start,
    ``looks`` the number of the look, ``joined`` (n, 2) whether the line goes on beyond start and end."""

    starts: Array
    ends: Array
    phases: Array
    looks: NDArray[np.intp]
    joined: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.starts)

    @property
    def lengths(self) -> Array:
        """Length of each leg in inches."""
        return np.hypot(*(self.ends - self.starts).T)

    def where(self, chosen: NDArray[np.bool_] | NDArray[np.intp]) -> Legs:
        """The chosen ones."""
        return Legs(
            self.starts[chosen], self.ends[chosen], self.phases[chosen], self.looks[chosen], self.joined[chosen]
        )

    def between(self, pick: NDArray[np.intp], start: Array, stop: Array) -> Legs:
        """Parts of the legs ``pick``, from ``start`` to ``stop`` as shares of the leg; a leg cut short is not joined
        there."""
        run = (self.ends - self.starts)[pick]
        joined = self.joined[pick] & np.column_stack([start <= 0.0, stop >= 1.0])
        return Legs(
            np.where(start[:, None] <= 0.0, self.starts[pick], self.starts[pick] + run * start[:, None]),
            np.where(stop[:, None] >= 1.0, self.ends[pick], self.starts[pick] + run * stop[:, None]),
            self.phases[pick] + self.lengths[pick] * start,
            self.looks[pick],
            joined,
        )


def legs_of(strokes: Sequence[tuple[Sequence[Point], int]], motion: Array | None = None) -> Legs:
    """Legs of polylines given with the number of their look, moved by an affine ``motion`` (2, 3) in table inches.

    A polyline that ends where it began is closed: its ends are joined.
    """
    sizes = np.array([len(points) for points, _ in strokes], np.intp)
    flat = np.array([point for points, _ in strokes for point in points], np.float64).reshape(-1, 2)
    points = moved(flat, motion)
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
    looks = np.array([look for _, look in strokes], np.intp)[stroke]
    return Legs(starts, ends, total - total[head], looks, np.column_stack([~first | closed, ~last | closed]))


def all_legs(parts: Sequence[Legs]) -> Legs:
    """All parts as one."""
    if len(parts) == 1:
        return parts[0]
    return Legs(
        np.concatenate([part.starts for part in parts]),
        np.concatenate([part.ends for part in parts]),
        np.concatenate([part.phases for part in parts]),
        np.concatenate([part.looks for part in parts]),
        np.concatenate([part.joined for part in parts]),
    )


def moved(points: Array, motion: Array | None) -> Array:
    """Points (n, 2) under an affine map (2, 3), or as they are."""
    return points if motion is None else points @ motion[:, :2].T + motion[:, 2]
