"""Lines drawn: many in one pass, each pixel by the cheapest way that is right for it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from projector.light.bands import bands_of, spans_of
from projector.light.ends import draw_with_ends
from projector.light.flat_frame import MARGIN, Raster, Scratch
from projector.light.palette import Palette
from projector.light.pieces import draw_pieces, pieces_of
from projector.light.segments import Segments


def draw_lines(raster: Raster, lines: Segments, palette: Palette, scratch: Scratch) -> None:
    """Raises every pixel that a line touches to the line's value there; the most covered wins at crossings."""
    # No line needs to be wider than the frame is wide and high together; rows beyond are never shown.
    widest = float(raster.width_px + raster.height_px)
    bands = bands_of(replace(lines, widths=np.minimum(lines.widths, widest)))
    spans = spans_of(bands, raster.width_px, raster.height_px)
    colours = palette.rows_of(lines.colours)
    raster.touched.expect(int(((spans.stop - spans.first) * spans.rows).sum()))
    # Very wide lines are worked out like their ends: rare, and right everywhere.
    with_ends = spans.near_end | (spans.rows > MARGIN - 4) | (not palette.has_widths)
    pieces = pieces_of(bands, spans.where(~with_ends), colours, raster.width_px, raster.height_px)
    draw_pieces(raster, pieces, palette, scratch)
    draw_with_ends(raster, bands, spans.where(with_ends), colours, palette)
