"""A panel as it hangs, flat or gathered in folds: its print, drawn or from a picture of one repeat, seams and edge."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

from jobs.model.plan import Plan
from jobs.model.records import dataclass
from jobs.model.window import Window
from projector.papers.drawing import INK, PAPER, Path, Point, Raster, Shape, rectangle
from projector.papers.hung_panel import Axis, HungCut, HungPanel
from projector.papers.piece_shapes import PIXELS_PER_INCH, printed_shapes
from projector.prints.face import Face, Pixels, face_of, png_of

Array = NDArray[np.float64]

FOLD_IN = 4.5
"""About how wide a fold is as it hangs."""
_SLATS = 16
_LEAST_FULLNESS = 1.02
_LIGHT_DEG = 35.0
_SHADE = 0.38


@dataclass(frozen=True)
class Gather:
    """Edges of upright slats, inches from the left side, on the ``flat`` cloth and as ``hung`` (slats + 1), and the
    ``light`` each slat gets, 1 where it faces the light (slats)."""

    flat: Array
    hung: Array
    light: Array

    @property
    def width(self) -> float:
        """How wide the cloth hangs, inches."""
        return float(self.hung[-1])


def gathered(width: float, fullness: float) -> Gather:
    """Cloth ``width`` inches wide, hung ``fullness`` times narrower in waves whose length is the cloth's.

    The front of a wave z = d sin(kx) has the slope a cos(kx); a is found so that the length along the wave, the mean of
    sqrt(1 + slope^2), is the fullness. The light comes from the left: it is least a little right of where a fold is
    deepest, and changes evenly from there, so that the print stays readable.
    """
    if fullness < _LEAST_FULLNESS:
        return Gather(np.array([0.0, width]), np.array([0.0, width]), np.ones(1))
    hung_width = width / fullness
    folds = max(1, round(hung_width / FOLD_IN))
    hung = np.linspace(0.0, hung_width, folds * _SLATS + 1)
    middles = (hung[1:] + hung[:-1]) / 2
    phase = 2 * math.pi * folds * middles / hung_width
    wave = np.cos(phase)
    slope = _steepness(wave, fullness) * wave
    lengths = np.sqrt(1 + slope**2)
    flat = np.concatenate([[0.0], np.cumsum(lengths)])
    facing = (1 + np.sin(phase + math.radians(_LIGHT_DEG))) / 2
    return Gather(flat * width / flat[-1], hung, 1 - _SHADE + _SHADE * facing)


def _steepness(wave: Array, fullness: float) -> float:
    low, high = 0.0, 4 * fullness
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if np.sqrt(1 + (middle * wave) ** 2).mean() < fullness else (low, middle)
    return high


def panel_pixels(plan: Plan, panel: HungPanel, gather: Gather, face: Face, pixels_per_inch: float) -> Pixels:
    """The panel as (height, width, 3), sRGB, at so many pixels to an inch of what hangs."""
    wide = max(2, round(gather.width * pixels_per_inch))
    high = max(2, round(float(panel.length) * pixels_per_inch))
    hung = (np.arange(wide) + 0.5) * gather.width / wide
    flat = np.interp(hung, gather.hung, gather.flat)
    below = (np.arange(high) + 0.5) * float(panel.length) / high
    pixels = np.zeros((high, wide, 3), np.uint8)
    for cut in panel.cuts:
        inside = (flat >= float(cut.left)) & (flat <= float(cut.right))
        pixels[:, inside] = _cut_pixels(plan, cut, face, flat[inside], below)
    slats = np.clip(np.searchsorted(gather.hung, hung) - 1, 0, len(gather.light) - 1)
    lit: Pixels = (pixels * gather.light[slats][None, :, None]).astype(np.uint8)
    return lit


def _cut_pixels(plan: Plan, cut: HungCut, face: Face, from_left: Array, below_top: Array) -> Pixels:
    """Colours (len(below_top), len(from_left), 3) of a cut; both are inches of the panel as finished."""
    along, across = (_distances(axis, from_left, below_top) for axis in (cut.along, cut.across))
    piece = next(use.piece for use in plan.pieces if use.number == cut.placement.piece)
    return face.colours_at(*np.broadcast_arrays(along - float(piece.first_row), across))


def _distances(axis: Axis, from_left: Array, below_top: Array) -> Array:
    """The distance on the piece, a column of them where it grows downwards, else a row."""
    return float(axis.at) + float(axis.by) * (below_top[:, None] if axis.falls else from_left[None, :])


_SEAM_IN = 0.012


@dataclass(frozen=True)
class HungStyle:
    """How panels are drawn: gathered in folds, with the ``face`` of the cloth (None: that of the job)."""

    folded: bool = False
    face: Face | None = None

    def gather(self, panel: HungPanel, window: Window | None) -> Gather:
        """Where the flat panel comes to hang: as it is, or gathered by the fullness of its window."""
        fullness = float(window.fullness) if self.folded and window is not None else 1.0
        return gathered(float(panel.width), fullness)


FLAT = HungStyle()


def panel_drawing(
    plan: Plan, panel: HungPanel, corner: Point, per_inch: float, style: HungStyle = FLAT, window: Window | None = None
) -> list[Shape]:
    """A panel with its upper left ``corner`` there; the window says how full it is gathered."""
    gather = style.gather(panel, window)
    left, top = corner
    right, foot = left + gather.width * per_inch, top + float(panel.length) * per_inch
    face = style.face or face_of(plan.job.cloth)
    shapes: list[Shape] = []
    if face.shapes is None or len(gather.light) > 1:
        sized = face.sized(PIXELS_PER_INCH * per_inch)
        pixels = panel_pixels(plan, panel, gather, sized, PIXELS_PER_INCH * per_inch)
        shapes.append(Raster(corner, right - left, foot - top, png_of(pixels)))
    else:
        shapes.append(Path(rectangle(left, top, right, foot), fill=face.ground, closed=True))
        for cut in panel.cuts:
            shapes += _printed(plan, panel, cut, face, lambda x, y: (left + x * per_inch, top + y * per_inch))
    for seam in panel.seams:
        x = left + float(np.interp(float(seam), gather.flat, gather.hung)) * per_inch
        # Dark beside pale, so that a seam is seen on every cloth.
        shapes.append(Path(((x, top), (x, foot)), PAPER, 2 * _SEAM_IN, dash=(0.1, 0.06)))
        shapes.append(Path(((x, top), (x, foot)), INK, _SEAM_IN, dash=(0.1, 0.06)))
    shapes.append(Path(rectangle(left, top, right, foot), INK, 0.028, closed=True))
    return shapes


def _printed(
    plan: Plan, panel: HungPanel, cut: HungCut, face: Face, place: Callable[[float, float], Point]
) -> Iterator[Shape]:
    """The drawn print of one cut; ``place`` gives the place on the drawing of inches from the panel's left and top."""
    sides = (float(cut.left), float(cut.right)), (0.0, float(panel.length))
    axes = (cut.along, cut.across)
    (along_at, along_by), (across_at, across_by) = ((float(axis.at), float(axis.by)) for axis in axes)

    def hung(along: float, across: float) -> Point:
        one, other = (along - along_at) / along_by, (across - across_at) / across_by
        return place(other, one) if cut.along.falls else place(one, other)

    along = sorted(along_at + along_by * at for at in sides[cut.along.falls])
    across = sorted(across_at + across_by * at for at in sides[cut.across.falls])
    first_row = next(use.piece.first_row for use in plan.pieces if use.number == cut.placement.piece)
    return printed_shapes(face, float(first_row), (along[0], along[1]), (across[0], across[1]), hung)
