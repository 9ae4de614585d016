"""Lines drawn: many in one pass, each pixel by the cheapest way that is right for it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from projector.light.bands import bands_of, spans_of
from projector.light.columns import Raster, Scratch, columns_of
from projector.light.coverage import by_both_edges, by_nearer_edge, near_ends
from projector.light.palette import Palette
from projector.light.segments import Segments

WIDE, NARROW, ENDS = 0, 1, 2
"""Ways of working out a pixel, from the cheapest: by the nearer edge, by both edges, by both edges and the ends."""
WAYS = 3


def draw_lines(raster: Raster, lines: Segments, palette: Palette, scratch: Scratch) -> None:
    """Raises every pixel that a line touches to the line's value there; the most covered wins at crossings."""
    # No line needs to be wider than the frame is wide and high together; rows beyond are never shown.
    widest = float(raster.width_px + raster.height_px)
    bands = bands_of(replace(lines, widths=np.minimum(lines.widths, widest)))
    spans = spans_of(bands, raster.width_px, raster.height_px)
    rows = palette.rows_of(lines.colours)
    thin = (bands.half < 1.0) | (bands.half + bands.growth * bands.length < 1.0)
    thin_all = (bands.half <= 1.0) & (bands.half + bands.growth * bands.length <= 1.0) & palette.has_widths
    # A line that grows from thin to wide is worked out like an end: rare, and right everywhere.
    way = np.where(spans.near_end | (thin & ~thin_all)[spans.band], ENDS, np.where(thin[spans.band], NARROW, WIDE))
    order = np.lexsort((spans.band, way, spans.rows))
    spans, way = spans.where(order), way[order]
    width = spans.stop - spans.first
    total = np.concatenate([[0], np.cumsum(width)])
    breaks = np.flatnonzero(np.diff(spans.rows * WAYS + way)) + 1
    for begin, end in zip([0, *breaks], [*breaks, len(width)], strict=True):
        while begin < end:
            fit = int(np.searchsorted(total, total[begin] + scratch.size, side="right")) - 1
            upto = min(max(fit, begin + 1), end)
            chunk = spans.where(slice(begin, upto))
            columns = columns_of(raster, bands, chunk, rows, bool(way[begin] == ENDS), scratch)
            if columns.ends is not None:
                near_ends(raster, columns, columns.ends, palette)
            elif way[begin] == NARROW:
                by_both_edges(raster, columns, palette, scratch)
            else:
                by_nearer_edge(raster, columns, palette, scratch)
            begin = upto
