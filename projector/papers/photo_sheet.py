"""A photograph with what was measured drawn on it, so that a person can see whether it is right."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from jobs.model.choices import Symmetry
from jobs.model.records import dataclass
from jobs.prints.photographs.measuring import Measurement
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.origin import Origin
from jobs.prints.photographs.plane import mapped

Array = NDArray[np.float64]

OUTLINE = "#101418"


def line(draw: ImageDraw.ImageDraw, ends: Array, colour: str, width: int, dash: tuple[int, int] | None = None) -> None:
    """A line between two points (2, 2), in pixels; ``dash`` is how long a dash and a gap are."""
    parts = [ends] if dash is None else _dashes(ends, *dash)
    for inked, thick in ((OUTLINE, width + 2 * max(1, width // 3)), (colour, width)):
        for part in parts:
            draw.line([(float(x), float(y)) for x, y in part], inked, thick)


def cross(draw: ImageDraw.ImageDraw, at: Array, size: float, colour: str, width: int) -> None:
    """An upright cross about a point (2,)."""
    for step in ((size, 0), (0, size)):
        line(draw, np.array([at - step, at + step]), colour, width)


def clipped(ends: Array, width: float, height: float) -> Array | None:
    """The part of a line (2, 2) inside the rectangle from (0, 0), None where it misses it (Liang and Barsky 1984)."""
    begin, step = ends[0], ends[1] - ends[0]
    low, top = 0.0, 1.0
    for k, size in ((0, width), (1, height)):
        for sign, room in ((-1, begin[k]), (1, size - begin[k])):
            rate = sign * step[k]
            if rate == 0:
                if room < 0:
                    return None
                continue
            low, top = (max(low, room / rate), top) if rate < 0 else (low, min(top, room / rate))
    return None if low >= top else np.array([begin + low * step, begin + top * step])


def _dashes(ends: Array, dash: int, gap: int) -> list[Array]:
    step = ends[1] - ends[0]
    length = float(np.hypot(*step))
    starts = np.arange(0, length, dash + gap)
    return [np.array([ends[0] + step * s / length, ends[0] + step * min(s + dash, length) / length]) for s in starts]


REPEATS = "#ffffff"
ROWS = "#f0e442"
MIRRORS = "#d55e00"
GLIDES = "#56b4e9"
DASH = (26, 14)
MOST_REPEATS = 9
"""Seen across the picture: with more only its middle is drawn."""
_FINER = 2


@dataclass(frozen=True)
class Drawn:
    """The picture, whether only its middle is shown."""

    image: Image.Image
    part: bool


def drawn_on_photo(photo: Photo, found: Measurement, origin: Origin, box: tuple[int, int]) -> Drawn:
    """The photograph with the lattice on it, within ``box`` (width, height) pixels."""
    to_photo = np.linalg.inv(photo.to_file) @ found.lattice.in_file
    crop = _crop(photo, to_photo)
    left, top, right, bottom = crop
    scale = min(box[0] / (right - left), box[1] / (bottom - top))
    size = max(1, round((right - left) * scale)), max(1, round((bottom - top) * scale))
    pixels = (np.clip(photo.pixels[top:bottom, left:right], 0, 1) * 255).astype(np.uint8)
    image = Image.fromarray(pixels).resize((size[0] * _FINER, size[1] * _FINER), Image.Resampling.BICUBIC)
    shown = np.array(
        [(scale * _FINER, 0, -left * scale * _FINER), (0, scale * _FINER, -top * scale * _FINER), (0, 0, 1)]
    )
    sketch = _Sketch(ImageDraw.Draw(image), shown @ to_photo, image.size, found, origin)
    sketch.repeats()
    sketch.mirrors()
    sketch.rows()
    part = (right - left, bottom - top) != photo.pixels.shape[1::-1]
    return Drawn(image.resize(size, Image.Resampling.BOX), part)


def _crop(photo: Photo, to_photo: Array) -> tuple[int, int, int, int]:
    """The middle of the picture that holds no more repeats than can be told apart."""
    high, wide = photo.pixels.shape[:2]
    middle = np.array([wide / 2, high / 2])
    place = mapped(np.linalg.inv(to_photo), middle)
    steps = mapped(to_photo, place + np.array([(0, 0), (1, 0), (0, 1)], float))
    longest = float(np.hypot(*(steps[1:] - steps[0]).T).max()) * MOST_REPEATS
    half_x, half_y = min(wide, longest) / 2, min(high, longest) / 2
    return (
        max(0, int(middle[0] - half_x)), max(0, int(middle[1] - half_y)),
        min(wide, int(np.ceil(middle[0] + half_x))), min(high, int(np.ceil(middle[1] + half_y))),
    )  # fmt: skip


@dataclass(frozen=True)
class _Sketch:
    draw: ImageDraw.ImageDraw
    to_image: Array
    size: tuple[int, int]
    found: Measurement
    origin: Origin

    def repeats(self) -> None:
        """Outlines of the repeats, each column lower than the last by the drop."""
        for row, column in self._numbers():
            for y, x in (((0, 0), (0, 1)), ((0, 0), (1, 0))):
                self._line(self._at(row, column, np.array([y, x], float)), REPEATS, 2, None)

    def rows(self) -> None:
        """A cross at each point that rows and columns are counted from."""
        for row, column in self._numbers():
            at = self._at(row, column, np.zeros((1, 2)))[0]
            if 0 <= at[0] <= self.size[0] and 0 <= at[1] <= self.size[1]:
                cross(self.draw, at, 13, ROWS, 4)

    def mirrors(self) -> None:
        """Mirror lines unbroken, glide lines in dashes, over the whole picture."""
        lattice, seen = self.found.lattice, self.found.symmetry
        low, top = self._reach()
        if self.origin.mirror_along is not None:
            at = self.origin.mirror_along / lattice.along
            for y in np.arange(np.floor(low[0]) - 1 + at, top[0] + 1, 0.5):
                self._mirror(np.array([(y, low[1] - 1), (y, top[1] + 1)]), seen.top_to_bottom)
        if self.origin.mirror_across is not None:
            half = self.found.columns / 2
            at = self.origin.mirror_across / lattice.across
            for x in np.arange(half * (np.floor(low[1] / half) - 1) + at, top[1] + 1, half):
                self._mirror(np.array([(low[0] - 1, x), (top[0] + 1, x)]), seen.side_to_side)

    def _mirror(self, ends: Array, kind: Symmetry) -> None:
        glide = kind is Symmetry.GLIDE
        self._line(self._seen(ends), GLIDES if glide else MIRRORS, 5, DASH if glide else None)

    def _seen(self, level: Array) -> Array:
        """Pixels (..., 2) of places (..., 2) in repeats down and columns to the right of the origin, square to it."""
        drop = self.found.lattice.raw_drop
        return mapped(
            self.to_image, self.origin.place + np.stack([level[..., 0] - drop * level[..., 1], level[..., 1]], -1)
        )

    def _at(self, row: int, column: int, level: Array) -> Array:
        return self._seen(level + np.array([row + self.found.lattice.raw_drop * column, column]))

    def _reach(self) -> tuple[Array, Array]:
        corners = np.array([(0, 0), (self.size[0], 0), self.size, (0, self.size[1])], float)
        place = mapped(np.linalg.inv(self.to_image), corners) - self.origin.place
        level = np.column_stack([place[:, 0] + self.found.lattice.raw_drop * place[:, 1], place[:, 1]])
        return level.min(0), level.max(0)

    def _numbers(self) -> list[tuple[int, int]]:
        low, top = self._reach()
        drop = self.found.lattice.raw_drop
        return [
            (row, column)
            for column in range(int(np.floor(low[1])) - 1, int(np.ceil(top[1])) + 1)
            for row in range(int(np.floor(low[0] - drop * column)) - 1, int(np.ceil(top[0] - drop * column)) + 1)
        ]

    def _line(self, ends: Array, colour: str, width: int, dash: tuple[int, int] | None) -> None:
        inside = clipped(ends, *self.size)
        if inside is not None:
            line(self.draw, inside, colour, width, dash)


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
