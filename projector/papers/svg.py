"""Drawings as SVG: one unit is one drawing inch, letters stay letters."""

from __future__ import annotations

import base64
from xml.sax.saxutils import escape, quoteattr

from projector.papers.drawing import Drawing, Path, Raster, Shape, Words

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
    return f"{round(value, 6) + 0.0:.6f}".rstrip("0").rstrip(".")
