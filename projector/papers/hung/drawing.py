"""A panel as it hangs, flat or gathered in folds: its print, drawn or from a picture of one repeat, seams and edge."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from jobs.model.window import Window
from jobs.plan import Plan
from projector.papers.drawing import Path, Point, Raster, Shape, rectangle
from projector.papers.hung.gathers import Gather, gathered
from projector.papers.hung.pixels import panel_pixels
from projector.papers.hung_panel import HungCut, HungPanel
from projector.papers.inks import INK, PAPER
from projector.papers.printed import PIXELS_PER_INCH, printed_shapes
from projector.prints.face import Face, face_of, png_of

_SEAM_IN = 0.012


@dataclass(frozen=True)
class Look:
    """How panels are drawn: gathered in folds, with the ``face`` of the cloth (None: that of the job)."""

    folded: bool = False
    face: Face | None = None

    def gather(self, panel: HungPanel, window: Window | None) -> Gather:
        """Where the flat panel comes to hang: as it is, or gathered by the fullness of its window."""
        fullness = float(window.fullness) if self.folded and window is not None else 1.0
        return gathered(float(panel.width), fullness)


FLAT = Look()


def panel_drawing(
    plan: Plan, panel: HungPanel, corner: Point, per_inch: float, look: Look = FLAT, window: Window | None = None
) -> list[Shape]:
    """A panel with its upper left ``corner`` there; the window says how full it is gathered."""
    gather = look.gather(panel, window)
    left, top = corner
    right, foot = left + gather.width * per_inch, top + float(panel.length) * per_inch
    face = look.face or face_of(plan.job.cloth)
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
    along, across = (sorted(float(axis.at) + float(axis.by) * at for at in sides[axis.falls])
                     for axis in (cut.along, cut.across))  # fmt: skip
    first_row = next(use.piece.first_row for use in plan.pieces if use.number == cut.placement.piece)
    return printed_shapes(
        face, float(first_row), (along[0], along[1]), (across[0], across[1]), lambda a, c: place(*cut.hangs(a, c))
    )
