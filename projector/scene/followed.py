"""A scene brought to where the cloth really lies: on the print, bent where it is bowed, or square to the selvedge."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from calibration.registration.fit import PrintFit
from calibration.registration.measures import squared
from jobs.model.choices import Follow
from projector.scene.marks import Hatch, Mark, Point, Scene, Stroke, Text

STRAY_IN = 1 / 64
"""How far a straight part of a bent line may lie from the bow: half of what a cut edge may."""


def fit_to_follow(fit: PrintFit, follow: Follow) -> PrintFit:
    """The map that marks are lit by: the print itself, or the cloth with rows square to its selvedge."""
    return fit if follow is Follow.PRINT else squared(fit)


def followed(scene: Scene, fit: PrintFit, at_left_in: float) -> Scene:
    """The scene of a stop, made for cloth as planned with piece position ``at_left_in`` at x = 0, laid on the fit.

    Lines and outlines are divided so finely that they stay within ``STRAY_IN`` of the bow. Letters move with the cloth
    and turn with its selvedge; they keep their size and are not bent.
    """
    return Scene(tuple(_mark(mark, fit, at_left_in) for mark in scene.marks))


def _mark(mark: Mark, fit: PrintFit, at_left_in: float) -> Mark:
    if isinstance(mark, Stroke):
        return replace(mark, points=_bent(mark.points, fit, at_left_in))
    if isinstance(mark, Hatch):
        closed = (*mark.outline, mark.outline[0]) if mark.outline else ()
        return replace(mark, outline=_bent(closed, fit, at_left_in)[:-1])
    return _text(mark, fit, at_left_in)


def _text(text: Text, fit: PrintFit, at_left_in: float) -> Text:
    return replace(text, at=_bent((text.at,), fit, at_left_in)[0], turn_deg=text.turn_deg + fit.turn_deg)


def _bent(points: tuple[Point, ...], fit: PrintFit, at_left_in: float) -> tuple[Point, ...]:
    divided = list(points[:1])
    for (x0, y0), (x1, y1) in pairwise(points):
        parts = _parts(abs(y1 - y0), fit)
        divided += [(x0 + (x1 - x0) * k / parts, y0 + (y1 - y0) * k / parts) for k in range(1, parts)]
        divided.append((x1, y1))
    if not divided:
        return ()
    piece = np.array(divided) + np.array([at_left_in, 0.0])
    return tuple((x, y) for x, y in fit.to_table(piece).tolist())


def _parts(across_in: float, fit: PrintFit) -> int:
    """Into how many equal parts a line is divided that runs this far across.

    A chord of a parabola over a share t of the width lies t^2 times the bow away from it at most.
    """
    share = across_in / fit.lattice.width_in
    return max(1, math.ceil(share * math.sqrt(abs(fit.bow_in) / STRAY_IN) - 1e-9))
