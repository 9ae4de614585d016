"""A scene moved over the table: by hand, or to where the cloth really lies, on the print, bent where it is bowed."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from calibration.registration.fit import PrintFit
from calibration.registration.measures import squared
from jobs.model.choices import Follow
from jobs.model.records import dataclass
from projector.scene.boxes import Box, parted
from projector.scene.marks import Hatch, Mark, Point, Scene, Stroke, Text

Affine = tuple[tuple[float, float, float], tuple[float, float, float]]


def moved(scene: Scene, affine: Affine) -> Scene:
    """The scene with every point (x, y) taken to (a x + b y + c, d x + e y + f), for rows (a, b, c) and (d, e, f).

    Letters turn with their baseline and grow with the square root of the area factor; they are never mirrored.
    Raises ValueError when the map flattens or mirrors the scene.
    """
    (a, b, c), (d, e, f) = affine
    area = a * e - b * d
    if not area > 0:
        raise ValueError("a scene can be moved, turned and stretched, not mirrored or flattened")
    turn_deg, scale = math.degrees(math.atan2(d, a)), math.sqrt(area)
    # There may be thousands of strokes at every nudge: no call for each.
    marks: list[Mark] = []
    for mark in scene.marks:
        if isinstance(mark, Stroke):
            marks.append(Stroke(mark.kind, tuple([(a * x + b * y + c, d * x + e * y + f) for x, y in mark.points])))
        elif isinstance(mark, Hatch):
            outline = tuple((a * x + b * y + c, d * x + e * y + f) for x, y in mark.outline)
            marks.append(replace(mark, outline=outline))
        else:
            x, y = mark.at
            at = (a * x + b * y + c, d * x + e * y + f)
            marks.append(replace(mark, at=at, height=mark.height * scale, turn_deg=mark.turn_deg + turn_deg))
    return Scene(tuple(marks))


@dataclass(frozen=True, eq=False)
class MovedScene:
    """A scene moved as a whole, its faint lines dark inside ``rooms`` (where it was moved to).

    Told apart from what lies over it, so that whoever draws it need not work it out anew with each key that moves it.
    """

    scene: Scene
    motion: Affine | None = None
    rooms: tuple[Box, ...] = ()

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks where they were moved to."""
        there = self.scene if self.motion is None else moved(self.scene, self.motion)
        return parted(there, self.rooms).marks if self.rooms else there.marks


NOTHING_UNDER = MovedScene(Scene())


def turned_about(middle: Point, turn_deg: float, shift: Point) -> Affine:
    """The map that turns counter-clockwise about ``middle`` and then shifts, in inches."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    x, y = middle
    return (
        (cos, -sin, x - cos * x + sin * y + shift[0]),
        (sin, cos, y - sin * x - cos * y + shift[1]),
    )


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
    return Scene(tuple(_followed_mark(mark, fit, at_left_in) for mark in scene.marks))


def _followed_mark(mark: Mark, fit: PrintFit, at_left_in: float) -> Mark:
    if isinstance(mark, Stroke):
        return replace(mark, points=_bent(mark.points, fit, at_left_in))
    if isinstance(mark, Hatch):
        closed = (*mark.outline, mark.outline[0]) if mark.outline else ()
        return replace(mark, outline=_bent(closed, fit, at_left_in)[:-1])
    return _followed_text(mark, fit, at_left_in)


def _followed_text(text: Text, fit: PrintFit, at_left_in: float) -> Text:
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
