"""Scenes lit: marks in table inches through the calibration onto a canvas."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from calibration.table import Table
from projector.light.appearance import LEAST_WIDTH_PX
from projector.light.arrays import Array
from projector.light.canvas import Canvas
from projector.light.labels import fills_of
from projector.light.segments import LEAST_IN, dashed, hatch, segments_of
from projector.light.strips import Lines, lines_px
from projector.light.styles import STYLES, Style, letter_colour
from projector.light.view import View, clipped, in_pixels, straightened, view_of
from projector.scene.marks import Hatch, Kind, Scene, Stroke, Text


def draw(
    scene: Scene,
    table: Table,
    canvas: Canvas,
    *,
    styles: Mapping[Kind, Style] = STYLES,
    motion: ArrayLike | None = None,
    width_factor: float = 1.0,
) -> None:
    """Clears the canvas and lights the scene on it.

    ``motion`` is an affine map (2, 3) of table inches applied to every mark first; ``width_factor`` scales all line
    widths. Raises ValueError when the canvas is not of the size the table was calibrated with.
    """
    if (canvas.width_px, canvas.height_px) != (table.width_px, table.height_px):
        raise ValueError(
            f"the canvas has {canvas.width_px} x {canvas.height_px} pixels, "
            f"the calibration {table.width_px} x {table.height_px}"
        )
    affine = None if motion is None else np.asarray(motion, np.float64).reshape(2, 3)
    view = view_of(table)
    texts = [mark for mark in scene.marks if isinstance(mark, Text)]
    canvas.light(
        lines_of(scene, view, styles, affine, width_factor),
        fills_of(texts, view, letter_colour(styles), affine),
    )


def lines_of(
    scene: Scene,
    view: View,
    styles: Mapping[Kind, Style] = STYLES,
    motion: Array | None = None,
    width_factor: float = 1.0,
) -> Lines:
    """Every stroke and hatching of a scene as straight lines in the frame."""
    number = {kind: index for index, kind in enumerate(styles)}
    strokes = [mark for mark in scene.marks if isinstance(mark, Stroke)]
    hatched = [(line, mark.kind) for mark in scene.marks if isinstance(mark, Hatch) for line in hatch(mark.outline)]
    polylines = [*(mark.points for mark in strokes), *(line for line, _ in hatched)]
    numbers = [*(number[mark.kind] for mark in strokes), *(number[kind] for _, kind in hatched)]
    widths_in = np.array([style.width_in for style in styles.values()]) * width_factor
    colours = np.array([style.colour for style in styles.values()], np.uint32)
    lit = dashed(clipped(segments_of(polylines, numbers, motion), view), list(styles.values()))
    # A dash that begins where its segment ends may be left with no length by rounding, and so with no direction.
    parts = straightened(lit.where(lit.lengths > LEAST_IN), view)
    (starts, ends), widths = in_pixels(parts, widths_in[parts.styles], view)
    return lines_px(starts, ends, np.maximum(widths, LEAST_WIDTH_PX), colours[parts.styles], parts.joined)
