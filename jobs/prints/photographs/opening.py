"""A picture file of any usual kind as brightness and colour in [0, 1], the right way up and small enough to work on."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from jobs.model.problems import Problem, problem
from jobs.model.records import dataclass
from jobs.prints.photographs.picture_file import picture_file
from jobs.prints.photographs.problems import PhotoCode, PhotoRefused

Array = NDArray[np.float64]
Pixels = NDArray[np.float32]
Box = tuple[int, int, int, int]

LEAST_SIDE = 32
_ORIENTATION, _EXIF_PART, _FOCAL_ON_FILM = 0x0112, 0x8769, 0xA405
_STRIP = 512


@dataclass(frozen=True)
class Turn:
    """How the pixels of a file are turned to stand upright: rows and columns changed for each other first, then the
    picture read backwards across or down."""

    swapped: bool = False
    across: bool = False
    down: bool = False

    def applied(self, pixels: Pixels) -> Pixels:
        """The pixels (h, w, 3), upright."""
        upright = pixels.swapaxes(0, 1) if self.swapped else pixels
        upright = upright[:, ::-1] if self.across else upright
        return upright[::-1] if self.down else upright

    def size(self, wide: int, high: int) -> tuple[int, int]:
        """Width and height, upright."""
        return (high, wide) if self.swapped else (wide, high)

    def box(self, box: Box, wide: int, high: int) -> Box:
        """Left, top, right, bottom in the file of a box of the upright picture, which is so wide and high."""
        left, top, right, bottom = box
        if self.across:
            left, right = wide - right, wide - left
        if self.down:
            top, bottom = high - bottom, high - top
        return (top, left, bottom, right) if self.swapped else (left, top, right, bottom)

    def upright(self, box: Box, wide: int, high: int) -> Box:
        """The other way: a box of the file, whose upright picture is so wide and high, in that picture."""
        swapped = Turn(self.swapped).box(box, wide, high)
        return Turn(False, self.across, self.down).box(swapped, wide, high)


# EXIF 2.32, tag 274: which side of the file is the top and which the left of the picture.
_TURNS = {
    2: Turn(across=True),
    3: Turn(across=True, down=True),
    4: Turn(down=True),
    5: Turn(swapped=True),
    6: Turn(swapped=True, across=True),
    7: Turn(swapped=True, across=True, down=True),
    8: Turn(swapped=True, down=True),
}


@dataclass(frozen=True)
class Photo:
    """``pixels`` (height, width, 3), sRGB in [0, 1]; one is ``reduction`` pixels of the file, which is ``size``.

    A place (x, y) of the file, once the right way up, is ``(place - origin) / reduction`` here; outer corner (0, 0).
    """

    pixels: Pixels
    size: tuple[int, int]
    reduction: tuple[float, float] = (1.0, 1.0)
    origin: tuple[float, float] = (0.0, 0.0)
    notices: tuple[Problem, ...] = ()
    focal_mm: float | None = None
    """Focal length as on film of 24 x 36 mm, where the file tells it."""
    bent: Array | None = None
    """Map (3, 3) to places of the file, where it is more than a reduction."""

    @property
    def to_file(self) -> Array:
        """The map (3, 3) from places here to those of the file."""
        if self.bent is not None:
            return self.bent
        return np.array([(self.reduction[0], 0, self.origin[0]), (0, self.reduction[1], self.origin[1]), (0, 0, 1)])

    @property
    def rgb8(self) -> NDArray[np.uint8]:
        """The pixels (height, width, 3) as whole numbers up to 255."""
        rounded: NDArray[np.uint8] = (np.clip(self.pixels, 0, 1) * 255 + 0.5).astype(np.uint8)
        return rounded


def open_photo(
    path: Path,
    most_pixels: int,
    *,
    crop: tuple[float, float, float, float] | None = None,
    least_side: int = LEAST_SIDE,
) -> Photo:
    """The picture reduced to about ``most_pixels``; ``crop`` (left, top, right, bottom) in pixels of the upright file.

    Raises PhotoRefused for anything that is not one fair picture of ``least_side`` pixels or more a side.
    """
    with picture_file(path) as image:
        return _read(image, most_pixels, crop, least_side)


def upright_size(path: Path) -> tuple[int, int]:
    """Width and height of the picture once it is the right way up. Raises PhotoRefused as ``open_photo`` does."""
    with picture_file(path) as image:
        return _TURNS.get(image.getexif().get(_ORIENTATION, 1), Turn()).size(*image.size)


def turn_of(path: Path) -> Turn:
    """How the pixels of this file are turned to stand upright. Raises PhotoRefused as ``open_photo`` does."""
    with picture_file(path) as image:
        return _TURNS.get(image.getexif().get(_ORIENTATION, 1), Turn())


def _read(
    image: Image.Image, most_pixels: int, crop: tuple[float, float, float, float] | None, least_side: int
) -> Photo:
    if min(image.size) < least_side:
        raise _too_small(least_side)
    notices = []
    if getattr(image, "is_animated", False) and image.format != "MPO":
        notices.append(problem((), PhotoCode.FIRST_OF_SEVERAL))
    focal = _focal(image)
    turn = _TURNS.get(image.getexif().get(_ORIENTATION, 1), Turn())
    size = turn.size(*image.size)
    box = _whole(crop, size) if crop else (0, 0, *size)
    wanted = max(1.0, ((box[2] - box[0]) * (box[3] - box[1]) / most_pixels) ** 0.5)
    in_file = turn.box(box, *size)
    full_width = image.width
    if image.format in ("JPEG", "MPO"):
        image.draft(None, (int(image.width / wanted), int(image.height / wanted)))
    # A JPEG is decoded at a half, a quarter or an eighth of its size; the last pixel may stand for less than others.
    drafted = 1 << round(float(np.log2(full_width / image.width)))
    factor = max(1, int(wanted / drafted + 0.5))
    step = drafted * factor
    left, top = (edge // step * factor for edge in in_file[:2])
    right, bottom = (
        min(-(-edge // step) * factor, side // factor * factor)
        for edge, side in zip(in_file[2:], image.size, strict=True)
    )
    if min(right - left, bottom - top) < least_side * factor:
        raise _too_small(least_side)
    pixels = turn.applied(_reduced(image, (left, top, right, bottom), factor))
    origin = turn.upright((left * drafted, top * drafted, right * drafted, bottom * drafted), *size)[:2]
    return Photo(pixels, size, (float(step), float(step)), (float(origin[0]), float(origin[1])), tuple(notices), focal)


def _too_small(least_side: int) -> PhotoRefused:
    for_a_print = least_side == LEAST_SIDE
    return PhotoRefused(
        PhotoCode.TOO_SMALL_FOR_A_PRINT if for_a_print else PhotoCode.TOO_SMALL_A_PICTURE, least=least_side
    )


def _focal(image: Image.Image) -> float | None:
    """What the camera wrote down, if it makes sense."""
    written = image.getexif().get_ifd(_EXIF_PART).get(_FOCAL_ON_FILM)
    return float(written) if isinstance(written, int) and 10 <= written <= 1000 else None


def _whole(crop: tuple[float, float, float, float], size: tuple[int, int]) -> Box:
    left, top = max(0, int(crop[0])), max(0, int(crop[1]))
    right, bottom = min(size[0], int(crop[2])), min(size[1], int(crop[3]))
    if right - left < LEAST_SIDE or bottom - top < LEAST_SIDE:
        raise PhotoRefused(PhotoCode.NOTHING_IN_CROP)
    return left, top, right, bottom


def _reduced(image: Image.Image, box: Box, factor: int) -> Pixels:
    """Pixels (h, w, 3) of the box, whose sides ``factor`` divides, each the mean of ``factor`` x ``factor`` of them.

    Strips are worked on one by one, so that a large picture is never held as numbers.
    """
    image.load()
    brightest = _brightest(image)
    left, top, right, bottom = box
    wide = (right - left) // factor
    found = np.empty(((bottom - top) // factor, wide, 3), np.float32)
    rows = max(1, _STRIP // factor)
    for first in range(0, len(found), rows):
        last = min(first + rows, len(found))
        strip = image.crop((left, top + first * factor, right, top + last * factor))
        values = _numbers(strip, brightest)
        found[first:last] = values.reshape(last - first, factor, wide, factor, 3).mean((1, 3), dtype=np.float32)
    return found


def _brightest(image: Image.Image) -> float:
    """What stands for white in a grey picture of more than eight bits: of whole numbers the most that two bytes hold;
    of floats, and of longer numbers, the least of 1, 255, 65535 and so on that none of them exceeds."""
    if not image.mode.startswith(("I", "F")):
        return 1.0
    if image.mode.startswith("I;16"):
        return 65535.0
    low, high = (float(edge) for edge in image.getextrema())  # type: ignore[arg-type]
    if not (np.isfinite(low) and np.isfinite(high)):
        raise PhotoRefused(PhotoCode.NO_BRIGHTNESS)
    whites = (65535.0, 2.0**32 - 1) if image.mode.startswith("I") else (1.0, 255.0, 65535.0)
    return next((white for white in whites if high <= white), high)


def _numbers(strip: Image.Image, brightest: float) -> Pixels:
    """A strip as (h, w, 3) in [0, 1]; what is transparent shows white paper."""
    if strip.mode.startswith(("I", "F")):
        deep = np.asarray(strip, dtype=np.float32) / np.float32(brightest)
        if np.isnan(deep).any():
            raise PhotoRefused(PhotoCode.NO_BRIGHTNESS)
        return np.repeat(np.clip(deep, 0, 1)[..., None], 3, 2)
    if strip.mode in ("RGBA", "LA", "PA", "RGBa", "La") or "transparency" in strip.info:
        strip = strip.convert("RGBA")
        paper = Image.new("RGBA", strip.size, (255, 255, 255, 255))
        strip = Image.alpha_composite(paper, strip)
    return np.asarray(strip.convert("RGB"), dtype=np.float32) / np.float32(255)
