"""A tape in the picture: how far apart its ticks lie, in pixels, along a line between two points of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jobs.prints.photographs.cells import sample
from jobs.prints.photographs.level import inverse, mapped
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.peaks import Array
from jobs.prints.photographs.refusals import PhotoRefused

LEAST_TICKS = 6
_BLOCKS = 6
_LEAST_PEAK = 6.0
"""How far the ticks' wave must stand above the middling one."""
_WIDE = 2
ADVICE = "give two points on the edge of the tape so that the line between them crosses equal ticks, or use --points"


@dataclass(frozen=True)
class Ticks:
    """Level pixels from tick to tick, one standard error of it, and how many lie between the two points."""

    spacing_px: float
    doubt_px: float
    count: float


def ticks_between(photo: Photo, level: Array, one: Array, other: Array) -> Ticks:
    """The ticks on the line between two points (2,) of the file; ``level`` (3, 3) as in ``Laid``.

    The strongest wave of the brightness along the line, then its phase in stretches of the line: a straight line
    through the phases tells the wavelength to a small share of what the transform alone does. Raises PhotoRefused.
    """
    ends = mapped(level, np.stack([one, other]))
    apart = float(np.hypot(*(ends[1] - ends[0])))
    from_level = inverse(photo.to_file) @ inverse(level)
    seen = mapped(from_level, ends)
    count = int(2 * np.hypot(*(seen[1] - seen[0])))
    if count < 64:
        raise PhotoRefused("the two points of the tape lie too near to each other", ADVICE)
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
        raise PhotoRefused("no even ticks are seen between the two points of the tape", ADVICE)
    number = float(waves[top])
    for _ in range(3):
        number, doubt = _by_phase(tone, at, number)
    return Ticks(apart / number, apart / number**2 * doubt, number)


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
