"""The photograph with its lattice, the mean repeat beside it, and what was found in words."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from jobs.model.choices import Symmetry
from jobs.prints.photographs.measuring import Measurement
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.origin import Origin
from projector.papers.measured_picture.lattice import DASH, GLIDES, MIRRORS, REPEATS, ROWS, drawn_on_photo
from projector.papers.measured_picture.strokes import cross, line

Pixels = NDArray[np.uint8]

PHOTO_BOX = (1040, 900)
SIDE_WIDTH = 400
TILE_BOX = (400, 420)
EDGE = 24
PAPER, INK, FAINT = "#ffffff", "#1a1e22", "#5a6066"
TEXT_PX, LINE_PX = 18, 26


def measured_picture(photo: Photo, found: Measurement, origin: Origin, tile: Pixels, words: Sequence[str]) -> Pixels:
    """Pixels (h, w, 3) of the whole sheet; ``tile`` is the mean repeat, ``words`` are lines for the person."""
    drawn = drawn_on_photo(photo, found, origin, PHOTO_BOX)
    wrapped = [part for text in words for part in _wrapped(text)]
    cell = _fitted(tile)
    keys = _keys(found)
    side = LINE_PX + cell.height + EDGE + LINE_PX * (len(wrapped) + len(keys)) + 2 * EDGE
    height = max(drawn.image.height + (LINE_PX if drawn.part else 0), side) + 2 * EDGE
    sheet = Image.new("RGB", (drawn.image.width + SIDE_WIDTH + 3 * EDGE, height), PAPER)
    draw = ImageDraw.Draw(sheet)
    sheet.paste(drawn.image, (EDGE, EDGE))
    if drawn.part:
        draw.text((EDGE, EDGE + drawn.image.height + 4), "The middle of the picture", FAINT, _font())
    x, y = drawn.image.width + 2 * EDGE, EDGE
    draw.text((x, y), "The mean repeat, a row and a column in its middle", INK, _font(16))
    y += LINE_PX
    sheet.paste(cell, (x, y))
    draw.rectangle((x - 1, y - 1, x + cell.width, y + cell.height), None, FAINT)
    y += cell.height + EDGE
    for text in wrapped:
        draw.text((x, y), text, INK, _font())
        y += LINE_PX
    y += EDGE
    for kind, text in keys:
        _key(draw, kind, x, y + LINE_PX // 2)
        draw.text((x + 70, y), text, INK, _font())
        y += LINE_PX
    return np.asarray(sheet)


def _fitted(tile: Pixels) -> Image.Image:
    image = Image.fromarray(tile)
    scale = min(TILE_BOX[0] / image.width, TILE_BOX[1] / image.height)
    return image.resize(
        (max(1, round(image.width * scale)), max(1, round(image.height * scale))), Image.Resampling.BICUBIC
    )


def _font(size: int = TEXT_PX) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)


def _wrapped(text: str) -> list[str]:
    """The text in lines that fit the side."""
    lines, font = [""], _font()
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if font.getlength(longer) > SIDE_WIDTH and lines[-1]:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _keys(found: Measurement) -> list[tuple[str, str]]:
    keys = [("repeat", "one repeat"), ("row", "where rows are counted from")]
    kinds = {found.symmetry.top_to_bottom, found.symmetry.side_to_side}
    if Symmetry.MIRROR in kinds:
        keys.append(("mirror", "mirror line"))
    if Symmetry.GLIDE in kinds:
        keys.append(("glide", "mirror with a slide"))
    return keys


def _key(draw: ImageDraw.ImageDraw, kind: str, x: int, y: int) -> None:
    ends = np.array([(x, y), (x + 56, y)], float)
    if kind == "row":
        cross(draw, np.array([x + 28.0, y]), 8, ROWS, 3)
    elif kind == "repeat":
        line(draw, ends, REPEATS, 2)
    else:
        line(draw, ends, MIRRORS if kind == "mirror" else GLIDES, 4, None if kind == "mirror" else (DASH[0] // 2, 7))
