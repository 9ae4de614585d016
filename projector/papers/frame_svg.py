"""What the projector shows at a stop as true lines and letters of an SVG, one unit a pixel of the frame."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from calibration.table import Table
from projector.light.fills import Fill
from projector.light.labels import fills_of
from projector.light.strips import Lines
from projector.light.styles import STYLES, Style, letter_colour
from projector.light.view import view_of
from projector.light.warp import lines_of
from projector.scene.marks import Kind, Scene, Text


def frame_svg(scene: Scene, table: Table, styles: Mapping[Kind, Style] = STYLES, width_factor: float = 1.0) -> str:
    """The scene through the calibration: dashes parted, lines and letter outlines as filled paths in pixels."""
    view = view_of(table)
    texts = [mark for mark in scene.marks if isinstance(mark, Text)]
    fills = [fill for text in texts for fill in fills_of(text, view, letter_colour(styles))]
    size = f'width="{table.width_px}" height="{table.height_px}"'
    return "\n".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {table.width_px} {table.height_px}">',
        f'<rect {size} fill="#000000"/>',
        *_lines(lines_of(scene, view, styles, width_factor=width_factor)),
        *map(_letters, fills),
        "</svg>\n",
    ])  # fmt: skip


def _lines(lines: Lines) -> Iterator[str]:
    """Each line as an SVG line of its mean width; an end that goes on is rounded, so that bends have no gap."""
    widths = lines.widths.mean(axis=1)
    for start, end, width, colour, joined in zip(
        lines.starts, lines.ends, widths, lines.colours, lines.joined, strict=True
    ):
        if np.array_equal(start, end):
            continue
        cap = "round" if joined.any() else "butt"
        yield (
            f'<line x1="{start[0]:.4f}" y1="{start[1]:.4f}" x2="{end[0]:.4f}" y2="{end[1]:.4f}" '
            f'stroke="#{int(colour):06x}" stroke-width="{width:.4f}" stroke-linecap="{cap}"/>'
        )


def _letters(fill: Fill) -> str:
    parts = np.split(fill.points, fill.starts[1:])
    outlines = " ".join("M" + " L".join(f"{x:.3f},{y:.3f}" for x, y in part) + " Z" for part in parts)
    return f'<path d="{outlines}" fill="#{fill.colour:06x}"/>'
