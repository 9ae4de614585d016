"""Drawings as pixels, drawn large with Pillow and made smaller."""

from __future__ import annotations

import io
import math
from collections.abc import Callable
from itertools import pairwise

from PIL import Image, ImageDraw, ImageFont

from projector.light.letters import font_path
from projector.papers.drawing import Drawing, Path, Point, Raster, Shape, Words
from projector.papers.svg import CAP_SHARE

PIXELS_PER_INCH = 110
_LARGER = 3
_BAND_PX = 1200

OnProgress = Callable[[int, int], None]


def image_of(
    drawing: Drawing, pixels_per_inch: float = PIXELS_PER_INCH, on_progress: OnProgress | None = None
) -> Image.Image:
    """The drawing as an RGB image, made in bands so that a long one takes no more room while it is made.

    ``on_progress`` is told after each band how many lines of pixels are done, of how many.
    """
    width, height = (round(side * pixels_per_inch) for side in (drawing.width, drawing.height))
    whole = Image.new("RGB", (width, height), drawing.paper)
    reach = [(shape, *_upper_and_lower(shape)) for shape in drawing.shapes]
    for top in range(0, height, _BAND_PX):
        high = min(_BAND_PX, height - top)
        first, last = (top - 1) / pixels_per_inch, (top + high + 1) / pixels_per_inch
        shapes = [shape for shape, upper, lower in reach if lower >= first and upper <= last]
        whole.paste(_band(drawing, shapes, (width, high), top, pixels_per_inch), (0, top))
        if on_progress is not None:
            on_progress(top + high, height)
    return whole


def _band(
    drawing: Drawing, shapes: list[Shape], size: tuple[int, int], top: int, pixels_per_inch: float
) -> Image.Image:
    """A band of the image, its first line ``top`` lines below the upper edge of the whole."""
    scale = pixels_per_inch * _LARGER
    image = Image.new("RGB", (size[0] * _LARGER, size[1] * _LARGER), drawing.paper)
    draw = ImageDraw.Draw(image)
    for shape in shapes:
        if isinstance(shape, Words):
            _write(image, shape, scale, top * _LARGER)
        elif isinstance(shape, Raster):
            _paste(image, shape, scale, top * _LARGER)
        else:
            _path(draw, shape, scale, top * _LARGER)
    return image.resize(size, Image.Resampling.BOX)


def _upper_and_lower(shape: Shape) -> tuple[float, float]:
    """How far up and down a shape reaches, line widths and accents included, drawing inches."""
    if isinstance(shape, Words):
        _, upper, _, lower = shape.box
        return upper - shape.height, lower + shape.height
    if isinstance(shape, Raster):
        return shape.at[1], shape.at[1] + shape.height
    ys = [y for _, y in shape.points]
    return min(ys) - shape.width, max(ys) + shape.width


def png_bytes(drawing: Drawing, pixels_per_inch: int = PIXELS_PER_INCH, on_progress: OnProgress | None = None) -> bytes:
    """The drawing as a PNG file."""
    data = io.BytesIO()
    image_of(drawing, pixels_per_inch, on_progress).save(data, "PNG", dpi=(pixels_per_inch, pixels_per_inch))
    return data.getvalue()


def _paste(image: Image.Image, raster: Raster, scale: float, top: int) -> None:
    """The pixels between those lines of the image that are nearest to the edges."""
    left, upper = (round(value * scale) for value in raster.at)
    right, lower = round((raster.at[0] + raster.width) * scale), round((raster.at[1] + raster.height) * scale)
    if right > left and lower > upper:
        pixels = Image.open(io.BytesIO(raster.png)).convert("RGB")
        image.paste(pixels.resize((right - left, lower - upper), Image.Resampling.BILINEAR), (left, upper - top))


def _path(draw: ImageDraw.ImageDraw, path: Path, scale: float, top: int) -> None:
    points = [(x * scale, y * scale - top) for x, y in path.points]
    if path.fill and len(points) > 2:
        draw.polygon(points, fill=path.fill)
    if path.stroke:
        around = [*points, points[0]] if path.closed else points
        lines = _dashes(around, [length * scale for length in path.dash]) if path.dash else [around]
        for line in lines:
            draw.line(line, fill=path.stroke, width=max(1, round(path.width * scale)), joint="curve")


def _dashes(points: list[Point], dash: list[float]) -> list[list[Point]]:
    """The parts of a polyline that a dash pattern (on, off, ...) leaves."""
    found: list[list[Point]] = []
    number, left = 0, dash[0]
    for (x0, y0), (x1, y1) in pairwise(points):
        length, done = math.hypot(x1 - x0, y1 - y0), 0.0
        while done < length:
            step = min(left, length - done)
            if number % 2 == 0:
                ends = (done / length, (done + step) / length)
                found.append([(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in ends])
            done, left = done + step, left - step
            if left <= 1e-9:
                number += 1
                left = dash[number % len(dash)]
    return found


def _write(image: Image.Image, words: Words, scale: float, top: int) -> None:
    face = ImageFont.truetype(font_path(), words.height * scale / CAP_SHARE)
    x, y = words.start
    if not words.upwards:
        ImageDraw.Draw(image).text((x * scale, y * scale - top), words.text, fill=words.colour, font=face, anchor="ls")
        return
    rise, tail = math.ceil(words.height * scale * 1.4), math.ceil(words.height * scale * 0.4)
    mask = Image.new("L", (max(1, math.ceil(face.getlength(words.text)) + 2), rise + tail), 0)
    ImageDraw.Draw(mask).text((0, rise), words.text, fill=255, font=face, anchor="ls")
    turned = mask.rotate(90, expand=True)
    at = (round(x * scale) - rise, round(y * scale) - turned.height - top)
    image.paste(Image.new("RGB", turned.size, words.colour), at, turned)
