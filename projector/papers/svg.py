"""SVG of drawings (one unit is one drawing inch, letters stay letters), of frames, and of pictures of pixels."""

from __future__ import annotations

import base64
from collections.abc import Iterator, Mapping
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from calibration.table import Table
from projector.light.labels import fills_of
from projector.light.raster.fills import Fill
from projector.light.raster.strips import Lines
from projector.light.styles import STYLES, Style, letter_colour
from projector.light.view import view_of
from projector.light.warp import lines_of
from projector.papers.drawing import Drawing, Path, Raster, Shape, Words
from projector.scene.marks import Kind, Scene, Text

CAP_SHARE = 0.729
"""Cap height of the face as a share of its size."""


def svg_text(drawing: Drawing) -> str:
    """The drawing as a whole SVG document; every line of letters keeps the length it was laid out with."""
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{_n(drawing.width)}in" height="{_n(drawing.height)}in" '
        f'viewBox="0 0 {_n(drawing.width)} {_n(drawing.height)}" '
        'font-family="FreeSans, Helvetica, Arial, sans-serif" font-weight="bold">',
        f"<title>{escape(_plain(drawing.title))}</title>",
        f'<rect width="{_n(drawing.width)}" height="{_n(drawing.height)}" fill={quoteattr(drawing.paper)}/>',
        *(_shape(shape) for shape in drawing.shapes),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _shape(shape: Shape) -> str:
    if isinstance(shape, Raster):
        return _raster(shape)
    return _words(shape) if isinstance(shape, Words) else _path(shape)


def _raster(raster: Raster) -> str:
    held = base64.b64encode(raster.png).decode("ascii")
    x, y = raster.at
    return (
        f'<image x="{_n(x)}" y="{_n(y)}" width="{_n(raster.width)}" height="{_n(raster.height)}" '
        f'preserveAspectRatio="none" xlink:href="data:image/png;base64,{held}"/>'
    )


def _path(path: Path) -> str:
    points = " ".join(f"{_n(x)},{_n(y)}" for x, y in path.points)
    look = f"fill={quoteattr(path.fill or 'none')}"
    if path.stroke:
        look += f' stroke={quoteattr(path.stroke)} stroke-width="{_n(path.width)}" stroke-linejoin="round"'
        if path.dash:
            look += f' stroke-dasharray="{" ".join(map(_n, path.dash))}"'
    return f'<{"polygon" if path.closed else "polyline"} points="{points}" {look}/>'


def _words(words: Words) -> str:
    x, y = words.start
    turn = f' transform="rotate(-90 {_n(x)} {_n(y)})"' if words.upwards else ""
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(words.height / CAP_SHARE)}" fill={quoteattr(words.colour)} '
        f'textLength="{_n(words.length)}" lengthAdjust="spacingAndGlyphs"{turn}>{escape(_plain(words.text))}</text>'
    )


def _plain(text: str) -> str:
    """The text without characters that XML 1.0 forbids."""
    return "".join(
        c if c in "\t\n\r" or "\x20" <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c >= "\U00010000" else "\ufffd"
        for c in text
    )


def _n(value: float) -> str:
    """A length to a millionth of an inch, so that cloth drawn small is true to a thousandth; without needless zeros."""
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def frame_svg(scene: Scene, table: Table, styles: Mapping[Kind, Style] = STYLES, width_factor: float = 1.0) -> str:
    """The scene through the calibration: dashes parted, lines and letter outlines as filled paths in pixels."""
    view = view_of(table)
    texts = [mark for mark in scene.marks if isinstance(mark, Text)]
    fills = fills_of(texts, view, letter_colour(styles))
    size = f'width="{table.width_px}" height="{table.height_px}"'
    return "\n".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {table.width_px} {table.height_px}">',
        f'<rect {size} fill="#000000"/>',
        *_frame_lines(lines_of(scene, view, styles, width_factor=width_factor)),
        *map(_frame_letters, fills),
        "</svg>\n",
    ])  # fmt: skip


def _frame_lines(lines: Lines) -> Iterator[str]:
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


def _frame_letters(fill: Fill) -> str:
    parts = np.split(fill.points, fill.starts[1:])
    outlines = " ".join("M" + " L".join(f"{x:.3f},{y:.3f}" for x, y in part) + " Z" for part in parts)
    return f'<path d="{outlines}" fill="#{fill.colour:06x}"/>'


def svg_of_pixels(png: bytes, width_px: int, height_px: int) -> str:
    """An SVG of ``width_px`` by ``height_px`` user units that holds the PNG as its only content."""
    held = base64.b64encode(png).decode("ascii")
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{width_px}" height="{height_px}" '
        f'viewBox="0 0 {width_px} {height_px}">'
        f'<image width="{width_px}" height="{height_px}" xlink:href="data:image/png;base64,{held}"/></svg>\n'
    )
