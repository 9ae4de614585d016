"""Scenes lit: marks in table inches through the calibration onto a canvas."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from calibration.table import Table
from projector.light.appearance import LEAST_WIDTH_PX
from projector.light.labels import fills_of
from projector.light.moving import letters_of, segments_of_marks, segments_of_moved
from projector.light.raster.canvas import Canvas
from projector.light.raster.strips import Lines, lines_px
from projector.light.segments import Segments
from projector.light.styles import STYLES, Style, letter_colour
from projector.light.view import View, clipped, in_pixels, straightened, view_of
from projector.scene.identity import ByIdentity
from projector.scene.marks import Kind, Scene, Text
from projector.scene.moved import NOTHING_UNDER, MovedScene


def draw(
    scene: Scene,
    table: Table,
    canvas: Canvas,
    *,
    styles: Mapping[Kind, Style] = STYLES,
    width_factor: float = 1.0,
    under: MovedScene = NOTHING_UNDER,
) -> None:
    """Clears the canvas and lights the scene on it, over another that was moved as a whole.

    ``width_factor`` scales all line widths. Raises ValueError when the canvas is not of the size the table was
    calibrated with.
    """
    if (canvas.width_px, canvas.height_px) != (table.width_px, table.height_px):
        raise ValueError(
            f"the canvas has {canvas.width_px} x {canvas.height_px} pixels, "
            f"the calibration {table.width_px} x {table.height_px}"
        )
    view, letters = view_of(table), letter_colour(styles)
    over = [mark for mark in scene.marks if isinstance(mark, Text)]
    staying, others = canvas.still.parted(over, (ByIdentity(table), letters))
    still = canvas.still.known(staying) or canvas.still.learn(staying, fills_of(staying, view, letters))
    fills = fills_of([*letters_of(under), *others], view, letters)
    canvas.light(lines_of(scene, view, styles, width_factor, under), fills, still)


def lines_of(
    scene: Scene,
    view: View,
    styles: Mapping[Kind, Style] = STYLES,
    width_factor: float = 1.0,
    under: MovedScene = NOTHING_UNDER,
) -> Lines:
    """Every stroke and hatching of both scenes as straight lines in the frame."""
    widths_in = np.array([style.width_in for style in styles.values()]) * width_factor
    colours = np.array([style.colour for style in styles.values()], np.uint32)
    segments = Segments.together(*segments_of_moved(under, styles), segments_of_marks(scene, styles))
    parts = straightened(clipped(segments, view), view)
    (starts, ends), widths = in_pixels(parts, widths_in[parts.styles], view)
    return lines_px(starts, ends, np.maximum(widths, LEAST_WIDTH_PX), colours[parts.styles], parts.joined)
