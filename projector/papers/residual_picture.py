"""What is left over between photographs and the calibration made of them: a bar at every corner that was seen."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.residuals import Residuals
from projector.papers.drawing import INK, PAPER, QUIET, WARNING, Drawing, Path, Point, Shape, Words

Array = NDArray[np.float64]
Places = Callable[[Array], Array]
"""Pixels (N, 2) of a photograph to places on the sheet."""

WIDTH, PANEL, GAP, HEAD = 10.0, 3.0, 0.2, 1.0
LETTERS = 0.13
TRUE_LONG = 0.018
"""How long, as a share of a panel's width, the bar of a usual miss is drawn."""
GOOD = "#0d5c57"


def residual_picture(residuals: Sequence[Residuals], names: Sequence[str], title: str) -> Drawing:
    """A sheet with a panel for each photograph; all bars are drawn at one scale, which the sheet tells."""
    spread = math.sqrt(float(np.mean([one.spread_px**2 for one in residuals]))) if residuals else 0.0
    longer = TRUE_LONG * PANEL / max(spread, 0.02)
    across = max(1, int((WIDTH - GAP) // (PANEL + GAP)))
    shapes: list[Shape] = [
        Words(title, (GAP, 0.32), 0.17, INK),
        Words(_legend(residuals, spread), (GAP, 0.64), LETTERS, QUIET),
    ]
    foot = HEAD
    for first in range(0, len(residuals), across):
        row = residuals[first : first + across]
        deep = 0.0
        for column, one in enumerate(row):
            number = first + column
            left, scale = GAP + column * (PANEL + GAP), PANEL / one.saw.long_px
            size = scale * np.array([one.saw.width_px, one.saw.height_px])
            words = f"{number + 1}: {names[number]}"
            shapes.append(Words(_fitting(words), (left, foot + 0.1), LETTERS, INK))
            at = np.array([left, foot + 0.25])
            shapes.append(_box(at, size))
            shapes += bars(one, lambda pixels, at=at, scale=scale: at + scale * pixels, longer)  # type: ignore[misc]
            deep = max(deep, float(size[1]) + 0.25)
        foot += deep + GAP
    return Drawing(WIDTH, foot + 0.1, tuple(shapes), PAPER, title)


def over_photograph(one: Residuals, places: Places, size: tuple[float, float]) -> Drawing:
    """The bars alone, to lie over a small picture of the photograph that is ``size`` wide and high."""
    longer = TRUE_LONG * max(size) / max(one.spread_px, 0.02)
    return Drawing(size[0], size[1], tuple(bars(one, places, longer, max(size) / PANEL)), "none", "What is left over")


def bars(one: Residuals, places: Places, longer: float, thick: float = 1.0) -> list[Shape]:
    """A bar from each corner to where the fit has it, ``longer`` sheet units a pixel; a cross where it was not used."""
    shapes: list[Shape] = []
    starts = places(one.saw.pixels)
    steps = longer * (places(one.saw.pixels + one.apart_px) - starts)
    far = np.linalg.norm(places(one.saw.pixels + np.array([1.0, 0.0])) - starts, axis=1)
    steps /= np.where(far > 0, far, 1.0)[:, None]
    arm = 0.035 * thick
    for (x, y), (a, b), used in zip(starts.tolist(), steps.tolist(), one.used.tolist(), strict=True):
        if used:
            shapes += [
                Path(((x, y), (x + a, y + b)), stroke=PAPER, width=0.034 * thick),
                Path(((x, y), (x + a, y + b)), stroke=GOOD, width=0.016 * thick),
            ]
        else:
            for slant in (1, -1):
                shapes.append(_line((x - arm, y - slant * arm), (x + arm, y + slant * arm), 0.02 * thick))
    return shapes


def _line(start: Point, end: Point, width: float) -> Path:
    return Path((start, end), stroke=WARNING, width=width)


def _box(at: Array, size: Array) -> Path:
    (x, y), (width, height) = at.tolist(), size.tolist()
    return Path(((x, y), (x + width, y), (x + width, y + height), (x, y + height)), stroke=QUIET, closed=True)


def _fitting(words: str) -> str:
    while len(words) > 8 and Words(words, (0, 0), LETTERS).length > PANEL:
        words = f"{words.rstrip('.')[:-1]}..."
    return words


def _legend(residuals: Sequence[Residuals], spread: float) -> str:
    left_out = int(sum((~one.used).sum() for one in residuals))
    crosses = f"; crosses: {left_out} corners not believed" if left_out else ""
    return f"bars: how far off each corner is, {spread:.2f} px on the whole, drawn far longer{crosses}"
