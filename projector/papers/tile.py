"""The print itself: a picture of one repeat, and the colour it gives to any place of the cloth."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from jobs.cutting import columns_across
from jobs.job import Cloth, End, Run
from jobs.photo.opening import open_photo
from jobs.photo.refusals import PhotoRefused

Array = NDArray[np.float64]
Pixels = NDArray[np.uint8]

MOST_PIXELS = 1_500_000
_UNLIKE = 0.03
"""Share by which the sides of a tile may stand to each other otherwise than the repeats, before that is said."""


@dataclass(frozen=True)
class Tile:
    """One repeat of the print: ``pixels`` (height, width, 3), sRGB, the motif's top up, the motif point in the middle.

    ``along`` and ``across`` are inches of the cloth. Cloth run ``sideways`` has its tops at the far selvedge: then
    the tile is as wide as the repeat along and as high as the one across.
    """

    pixels: Pixels
    along: float
    across: float
    notices: tuple[str, ...] = ()
    sideways: bool = False

    def sized(self, pixels_per_inch: float) -> Tile:
        """The same with no more pixels than are shown at this scale, so that fine lines do not flicker."""
        height, width = self.pixels.shape[:2]
        wide, high = (self.along, self.across) if self.sideways else (self.across, self.along)
        wanted = (
            max(1, min(width, round(wide * pixels_per_inch))),
            max(1, min(height, round(high * pixels_per_inch))),
        )
        small = Image.fromarray(self.pixels).resize(wanted, Image.Resampling.BOX)
        return replace(self, pixels=np.asarray(small))


def read_tile(path: Path, cloth: Cloth) -> Tile:
    """A scanned picture of one whole repeat. Raises ``jobs.photo.refusals.PhotoRefused`` for what is none."""
    if cloth.repeat is None:
        raise PhotoRefused("the cloth of this job is plain", "leave --tile out, or write its repeat into the job")
    photo = open_photo(path, MOST_PIXELS)
    height, width = photo.size[1], photo.size[0]
    along = float(cloth.repeat.along)
    sideways = cloth.run is Run.SIDEWAYS
    shape = width / height
    unknown = along / shape if sideways else along * shape
    across = float(cloth.repeat.across) if cloth.repeat.across is not None else unknown
    notices = []
    wanted = along / across if sideways else across / along
    if abs(shape / wanted - 1) > _UNLIKE:
        notices.append(
            f"The tile is {shape:.2f} times as wide as high, the repeat {wanted:.2f} times: it is stretched. "
            "Cut the picture to one whole repeat."
        )
    return Tile(photo.rgb8, along, across, tuple(notices), sideways)


def colours_at(tile: Tile, cloth: Cloth, first_row: float, along: Array, across: Array) -> Pixels:
    """Colours (..., 3) of the face of the cloth at places ``along`` from the first end, ``across`` from the near
    selvedge, inches; ``first_row`` is where a row of the first column lies. Between pixels they are blended."""
    column = float(columns_across(cloth)[0])
    number = np.floor((across - column) / tile.across + 0.5)
    on = (across - column) / tile.across - number + 0.5
    off = (along - first_row) / tile.along - number * float(cloth.drop) + 0.5
    right, down = (off, 1 - on) if tile.sideways else (on, off)
    if cloth.print.top_towards is End.LAST:
        right, down = 1 - right, 1 - down
    return _blended(tile.pixels, right % 1, down % 1)


def _blended(pixels: Pixels, right: Array, down: Array) -> Pixels:
    """Colours at shares of the tile's width and height, from the four pixels about each; the tile goes on round."""
    height, width = pixels.shape[:2]
    x, y = right * width - 0.5, down * height - 0.5
    left, upper = np.floor(x).astype(int), np.floor(y).astype(int)
    share_x, share_y = (x - left)[..., None], (y - upper)[..., None]

    def line(row: NDArray[np.int64]) -> Array:
        return pixels[row % height, left % width] * (1 - share_x) + pixels[row % height, (left + 1) % width] * share_x

    colours: Pixels = (line(upper) * (1 - share_y) + line(upper + 1) * share_y + 0.5).astype(np.uint8)
    return colours


def png_of(pixels: Pixels) -> bytes:
    """The pixels (height, width, 3) as a PNG file."""
    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "PNG")
    return held.getvalue()
