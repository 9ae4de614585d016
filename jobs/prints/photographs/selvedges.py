"""The two edges of a cloth that is seen from selvedge to selvedge on its table."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jobs.prints.photographs.opening import Photo, Pixels
from jobs.prints.photographs.peaks import Array

BANDS = 12
_LEAST_STEP = 0.05
"""Of brightness or colour, between table and cloth."""
_LEAST_SEEN = 0.6
"""Share of the bands in which an edge must be found on one line."""


@dataclass(frozen=True)
class Edge:
    """An edge: its x at the top and at the foot of the picture, and how far it may be off, in pixels of the file."""

    top_px: float
    foot_px: float
    doubt_px: float

    @property
    def middle_px(self) -> float:
        """Its x at half height."""
        return (self.top_px + self.foot_px) / 2


def cloth_edges(photo: Photo) -> tuple[Edge | None, Edge | None]:
    """The left and the right edge; None on a side where the cloth runs out of the picture, or is not told from it."""
    pixels = photo.pixels
    step_x = photo.reduction[0]
    left = _edge(pixels)
    right = _edge(pixels[:, ::-1])
    wide = pixels.shape[1]

    def in_file(found: Array | None, mirrored: bool) -> Edge | None:
        if found is None:
            return None
        top, foot, doubt = found
        top, foot = (wide - top, wide - foot) if mirrored else (top, foot)
        return Edge(top * step_x + photo.origin[0], foot * step_x + photo.origin[0], max(doubt * step_x, 0.5))

    return in_file(left, False), in_file(right, True)


def _edge(pixels: Pixels) -> Array | None:
    """x at the top, at the foot and the doubt (3,) of the first lasting change from the left."""
    high, wide = pixels.shape[:2]
    found = []
    for band in range(BANDS):
        rows = slice(band * high // BANDS, (band + 1) * high // BANDS)
        x = _first_change(pixels[rows].mean(0))
        if x is not None:
            found.append(((band + 0.5) / BANDS, x))
    if len(found) < _LEAST_SEEN * BANDS:
        return None
    y, x = np.array(found).T
    slopes = (x[:, None] - x) / np.where(y[:, None] == y, np.inf, y[:, None] - y)
    slope = float(np.median(slopes[np.triu_indices(len(x), 1)]))
    start = float(np.median(x - slope * y))
    off = np.abs(x - start - slope * y)
    near = off < max(0.006 * wide, 2.0)
    if near.sum() < _LEAST_SEEN * BANDS:
        return None
    fit, cov = np.polyfit(y[near], x[near], 1, cov="unscaled")
    spread = float(np.sqrt(((x[near] - np.polyval(fit, y[near])) ** 2).sum() / max(1, near.sum() - 2)))
    return np.array([fit[1], fit[0] + fit[1], spread * float(np.sqrt(cov[1, 1])) + 0.2])


def _first_change(line: Pixels) -> float | None:
    """Where a line (w, 3) leaves what it begins with, to a share of a pixel; None where it begins as cloth."""
    wide = len(line)
    some = max(3, wide // 100)
    table = line[:some].mean(0)
    away = np.abs(line - table).max(1)
    floor = max(_LEAST_STEP, 4 * float(away[:some].max()))
    far = np.convolve(away, np.ones(some) / some, "valid") > floor
    if not far[: wide * 2 // 5].any() or far[: some // 2].any():
        return None
    at = int(far.argmax())
    inside = float(np.median(away[at + some : at + 3 * some]))
    over = np.nonzero(away[max(0, at - some) : at + 2 * some] >= inside / 2)[0]
    if not len(over):
        return None
    k = max(0, at - some) + int(over[0])
    if k == 0:
        return None
    rise = away[k] - away[k - 1]
    return float(k - 0.5 + (inside / 2 - away[k - 1]) / rise) if rise > 0 else float(k)
