"""How many pixels an inch of the cloth takes in a picture: from two points, from its selvedges, from a tape."""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from jobs.model.records import dataclass
from jobs.prints.photographs.cells import sample
from jobs.prints.photographs.lattice import Lattice
from jobs.prints.photographs.opening import Array, Photo, Pixels
from jobs.prints.photographs.plane import mapped
from jobs.prints.photographs.problems import PhotoCode, PhotoRefused

MARK_ERROR_PX = 1.5
"""Standard error of a place pointed at in a picture, in pixels of the file."""
TAPE_ERROR_IN = 0.02
"""Of a length read from a ruler or tape to the nearest sixteenth of an inch (JCGM 100: a sixteenth over root 12)."""

Pixel = tuple[float, float]


class Source(StrEnum):
    """What a scale is taken from."""

    PIXELS_PER_INCH = "pixels per inch"
    POINTS = "two points"
    CORNERS = "four corners"
    CLOTH = "cloth width"
    WHOLE_PICTURE = "whole picture"
    TAPE = "tape"


@dataclass(frozen=True)
class Scale:
    """Level pixels an inch, the share by which that may be off (one standard error), and what it was taken from.

    ``ticks``: how many of a tape lie between the two points.
    """

    per_inch: float
    error: float
    source: Source
    ticks: float = 0.0


def between_points(lattice: Lattice, one: Pixel, other: Pixel, distance_in: float) -> Scale:
    """From two points of the picture that lie ``distance_in`` apart on the cloth. Raises ValueError for one point."""
    seen = mapped(lattice.level, np.array([one, other], float))
    apart = float(np.hypot(*(seen[1] - seen[0])))
    if not apart > 0:
        raise ValueError("two points are needed")
    return Scale(apart / distance_in, _share(apart, distance_in, MARK_ERROR_PX), Source.POINTS)


def across_cloth(
    lattice: Lattice, selvedges: tuple[Pixel, Pixel], width_in: float, mark_error_px: float, source: Source
) -> Scale:
    """From a point of each selvedge and the cloth width, which is measured at right angles to the warp.

    Raises ValueError where both lie on one side.
    """
    seen = mapped(lattice.level, np.array(selvedges, float))
    start, end = mapped(lattice.level @ lattice.in_file, np.array([(0, 0), (1, 0)], float))
    warp = (end - start) / np.hypot(*(end - start))
    between = seen[1] - seen[0]
    apart = abs(float(between[0] * warp[1] - between[1] * warp[0]))
    if not apart > 0:
        raise ValueError("two selvedges are needed")
    return Scale(apart / width_in, _share(apart, width_in, mark_error_px), source)


def _share(apart: float, distance_in: float, mark_error_px: float) -> float:
    return float(np.hypot(2**0.5 * mark_error_px / apart, TAPE_ERROR_IN / distance_in))


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
    error_px: float

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
        top, foot, error = found
        top, foot = (wide - top, wide - foot) if mirrored else (top, foot)
        return Edge(top * step_x + photo.origin[0], foot * step_x + photo.origin[0], max(error * step_x, 0.5))

    return in_file(left, False), in_file(right, True)


def _edge(pixels: Pixels) -> Array | None:
    """x at the top, at the foot and the error (3,) of the first lasting change from the left."""
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


LEAST_TICKS = 6
_BLOCKS = 6
_LEAST_PEAK = 6.0
"""How far the ticks' wave must stand above the middling one."""
_WIDE = 2


@dataclass(frozen=True)
class Ticks:
    """Level pixels from tick to tick, one standard error of it, and how many lie between the two points."""

    spacing_px: float
    error_px: float
    count: float


def ticks_between(photo: Photo, level: Array, one: Array, other: Array) -> Ticks:
    """The ticks on the line between two points (2,) of the file; ``level`` (3, 3) as in ``Lattice``.

    The strongest wave of the brightness along the line, then its phase in stretches of the line: a straight line
    through the phases tells the wavelength to a small share of what the transform alone does. Raises PhotoRefused.
    """
    ends = mapped(level, np.stack([one, other]))
    apart = float(np.hypot(*(ends[1] - ends[0])))
    from_level = np.linalg.inv(photo.to_file) @ np.linalg.inv(level)
    seen = mapped(from_level, ends)
    count = int(2 * np.hypot(*(seen[1] - seen[0])))
    if count < 64:
        raise PhotoRefused(PhotoCode.TAPE_TOO_SHORT)
    at = (np.arange(count) + 0.5) / count
    line = ends[0] + at[:, None] * (ends[1] - ends[0])
    beside = np.array([ends[0, 1] - ends[1, 1], ends[1, 0] - ends[0, 0]]) * 2 / count
    strips = [sample(photo.pixels, mapped(from_level, line + k * beside)).mean(-1) for k in range(-_WIDE, _WIDE + 1)]
    tone = np.mean(strips, 0).astype(float)
    slow = np.polynomial.Polynomial.fit(at, tone, 6)(at)
    tone = (tone - slow) * np.hanning(count)
    power = np.abs(np.fft.rfft(tone, 4 * count)) ** 2
    waves = np.arange(len(power)) / 4
    power[(waves < LEAST_TICKS) | (waves > count / 4)] = 0
    top = int(power.argmax())
    if power[top] < _LEAST_PEAK**2 * float(np.median(power[power > 0])):
        raise PhotoRefused(PhotoCode.NO_TICKS)
    number = float(waves[top])
    for _ in range(3):
        number, error = _by_phase(tone, at, number)
    return Ticks(apart / number, apart / number**2 * error, number)


def _by_phase(tone: Array, at: Array, number: float) -> tuple[float, float]:
    """The number of waves on the line and its standard error, from the phases of stretches beside a first guess."""
    turned = tone * np.exp(-2j * np.pi * number * at)
    stretches = np.array_split(np.arange(len(at)), _BLOCKS)
    sums = np.array([turned[part].sum() for part in stretches])
    middles = np.array([at[part].mean() for part in stretches])
    phases = np.unwrap(np.angle(sums)) / (2 * np.pi)
    weight = np.abs(sums)
    (slope, _), known = np.polyfit(middles, phases, 1, w=weight, cov=True)
    return number + float(slope), float(np.sqrt(max(known[0, 0], 1e-12)))
