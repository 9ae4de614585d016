"""A picture file of any usual kind as brightness and colour in [0, 1], the right way up and small enough to work on."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from jobs.photo.refusals import PhotoRefused

Pixels = NDArray[np.float32]

MOST_PIXELS = 100_000_000
LEAST_SIDE = 32
KINDS = ("PNG", "JPEG", "TIFF", "WEBP", "MPO")
_ORIENTATION, _EXIF_PART, _FOCAL_ON_FILM = 0x0112, 0x8769, 0xA405
_TURNS: dict[int, tuple[Image.Transpose, ...]] = {
    2: (Image.Transpose.FLIP_LEFT_RIGHT,),
    3: (Image.Transpose.ROTATE_180,),
    4: (Image.Transpose.FLIP_TOP_BOTTOM,),
    5: (Image.Transpose.TRANSPOSE,),
    6: (Image.Transpose.ROTATE_270,),
    7: (Image.Transpose.TRANSVERSE,),
    8: (Image.Transpose.ROTATE_90,),
}
_STRIP = 512


@dataclass(frozen=True)
class Photo:
    """``pixels`` (height, width, 3), sRGB in [0, 1]; one is ``reduction`` pixels of the file, which is ``size``.

    A place (x, y) of the file, once the right way up, is ``(place - origin) / reduction`` here; outer corner (0, 0).
    """

    pixels: Pixels
    size: tuple[int, int]
    reduction: tuple[float, float] = (1.0, 1.0)
    origin: tuple[float, float] = (0.0, 0.0)
    notices: tuple[str, ...] = ()
    focal_mm: float | None = None
    """Focal length as on film of 24 x 36 mm, where the file tells it."""
    bent: NDArray[np.float64] | None = None
    """Map (3, 3) to places of the file, where it is more than a reduction."""

    @property
    def to_file(self) -> NDArray[np.float64]:
        """The map (3, 3) from places here to those of the file."""
        if self.bent is not None:
            return self.bent
        return np.array([(self.reduction[0], 0, self.origin[0]), (0, self.reduction[1], self.origin[1]), (0, 0, 1)])


def open_photo(path: Path, most_pixels: int, *, crop: tuple[float, float, float, float] | None = None) -> Photo:
    """The picture reduced to about ``most_pixels``; ``crop`` (left, top, right, bottom) in pixels of the upright file.

    Raises PhotoRefused for anything that is not one fair picture.
    """
    try:
        if path.is_dir():
            raise PhotoRefused("this is a folder", "give the name of a picture file")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with _opened(path) as image:
                return _read(image, most_pixels, crop)
    except FileNotFoundError:
        raise PhotoRefused("there is no such file", "check the name and the folder") from None
    except Image.DecompressionBombError:
        raise _too_large() from None
    except MemoryError:
        raise _too_large() from None
    except PhotoRefused:
        raise
    except (OSError, ValueError, SyntaxError, EOFError, IndexError, KeyError, TypeError, OverflowError) as error:
        if isinstance(error, PermissionError):
            raise PhotoRefused("it may not be read", "check who may read it") from None
        raise PhotoRefused("the picture is broken", "copy it from the camera again or take another") from None


def _opened(path: Path) -> Image.Image:
    try:
        return Image.open(path, formats=KINDS)
    except (FileNotFoundError, PermissionError, Image.DecompressionBombError):
        raise
    except Exception:
        # Whatever a decoder trips over in the first bytes: they are not those of a picture.
        raise PhotoRefused("this is not a picture", "give a PNG, JPEG, TIFF or WebP file") from None


def _too_large() -> PhotoRefused:
    return PhotoRefused("the picture has more than 100 million pixels", "save it smaller")


def _read(image: Image.Image, most_pixels: int, crop: tuple[float, float, float, float] | None) -> Photo:
    if image.width * image.height > MOST_PIXELS:
        raise _too_large()
    if min(image.size) < LEAST_SIDE:
        raise PhotoRefused(
            "the picture is too small to show a print", f"give one of {LEAST_SIDE} pixels or more a side"
        )
    notices = []
    if getattr(image, "n_frames", 1) > 1 and image.format != "MPO":
        notices.append("The file holds several pictures; only the first is measured.")
    focal = _focal(image)
    turns = _TURNS.get(image.getexif().get(_ORIENTATION, 1), ())
    turned = bool(turns) and turns[0] not in (
        Image.Transpose.FLIP_LEFT_RIGHT, Image.Transpose.FLIP_TOP_BOTTOM, Image.Transpose.ROTATE_180,
    )  # fmt: skip
    size = (image.height, image.width) if turned else (image.width, image.height)
    box = _whole(crop, size) if crop else (0, 0, size[0], size[1])
    wanted = max(1.0, ((box[2] - box[0]) * (box[3] - box[1]) / most_pixels) ** 0.5)
    if image.format == "JPEG":
        image.draft(None, (int(image.width / wanted), int(image.height / wanted)))
    drafted = size[0] / (image.size[1] if turned else image.size[0])
    factor = max(1, int(wanted / drafted + 0.5))
    small = _reduced(image, factor)
    for turn in turns:
        small = _apply(small, turn)
    step = size[0] / small.shape[1], size[1] / small.shape[0]
    if drafted == 1:
        step = float(factor), float(factor)
    left, top = int(box[0] / step[0]), int(box[1] / step[1])
    right, bottom = int(np.ceil(box[2] / step[0])), int(np.ceil(box[3] / step[1]))
    part = small[top:bottom, left:right]
    if min(part.shape[:2]) < LEAST_SIDE:
        raise PhotoRefused(
            "the picture is too small to show a print", f"give one of {LEAST_SIDE} pixels or more a side"
        )
    return Photo(part, size, step, (left * step[0], top * step[1]), tuple(notices), focal)


def _focal(image: Image.Image) -> float | None:
    """What the camera wrote down, if it makes sense."""
    told = image.getexif().get_ifd(_EXIF_PART).get(_FOCAL_ON_FILM)
    return float(told) if isinstance(told, int) and 10 <= told <= 1000 else None


def _whole(crop: tuple[float, float, float, float], size: tuple[int, int]) -> tuple[int, int, int, int]:
    left, top = max(0, int(crop[0])), max(0, int(crop[1]))
    right, bottom = min(size[0], int(crop[2])), min(size[1], int(crop[3]))
    if right - left < LEAST_SIDE or bottom - top < LEAST_SIDE:
        raise PhotoRefused("hardly anything is left inside the crop", "give left,top,right,bottom in pixels")
    return left, top, right, bottom


def _apply(pixels: Pixels, turn: Image.Transpose) -> Pixels:
    flips = {
        Image.Transpose.FLIP_LEFT_RIGHT: lambda p: p[:, ::-1],
        Image.Transpose.FLIP_TOP_BOTTOM: lambda p: p[::-1],
        Image.Transpose.ROTATE_180: lambda p: p[::-1, ::-1],
        Image.Transpose.ROTATE_90: lambda p: np.rot90(p, 1),
        Image.Transpose.ROTATE_270: lambda p: np.rot90(p, 3),
        Image.Transpose.TRANSPOSE: lambda p: p.swapaxes(0, 1),
        Image.Transpose.TRANSVERSE: lambda p: p[::-1, ::-1].swapaxes(0, 1),
    }
    turned: Pixels = flips[turn](pixels)
    return turned


def _reduced(image: Image.Image, factor: int) -> Pixels:
    """Pixels (h, w, 3), each the mean of ``factor`` x ``factor`` of the file; a last part strip is left out.

    Strips are worked on one by one, so that a large picture is never held as numbers.
    """
    image.load()
    wide, high = image.width // factor * factor, image.height // factor
    strips = []
    rows = max(factor, _STRIP // factor * factor)
    for top in range(0, high * factor, rows):
        strip = image.crop((0, top, wide, min(top + rows, high * factor)))
        values = _numbers(strip)
        shape = values.shape[0] // factor, factor, wide // factor, factor, 3
        strips.append(values.reshape(shape).mean((1, 3), dtype=np.float32))
    return np.concatenate(strips)


def _numbers(strip: Image.Image) -> Pixels:
    """A strip as (h, w, 3) in [0, 1]; what is transparent shows white paper."""
    if strip.mode.startswith(("I", "F")):
        deep = np.asarray(strip, dtype=np.float32)
        deep = np.clip(deep / (65535.0 if strip.mode.startswith("I") else max(1.0, float(deep.max()))), 0, 1)
        return np.repeat(deep[..., None], 3, 2)
    if strip.mode in ("RGBA", "LA", "PA", "RGBa", "La") or "transparency" in strip.info:
        strip = strip.convert("RGBA")
        paper = Image.new("RGBA", strip.size, (255, 255, 255, 255))
        strip = Image.alpha_composite(paper, strip)
    return np.asarray(strip.convert("RGB"), dtype=np.float32) / np.float32(255)
