"""A picture of pixels inside an SVG, for those who want one kind of file for everything."""

from __future__ import annotations

import base64


def svg_of_pixels(png: bytes, width_px: int, height_px: int) -> str:
    """An SVG of ``width_px`` by ``height_px`` user units that holds the PNG as its only content."""
    held = base64.b64encode(png).decode("ascii")
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{width_px}" height="{height_px}" '
        f'viewBox="0 0 {width_px} {height_px}">'
        f'<image width="{width_px}" height="{height_px}" xlink:href="data:image/png;base64,{held}"/></svg>\n'
    )
