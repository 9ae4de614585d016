"""Pictures from files, small enough for the screen."""

from __future__ import annotations

import base64
import io
from pathlib import Path

from jobs.prints.photographs.opening import open_photo
from jobs.prints.photographs.picture_file import MOST_PIXELS
from projector.papers.photo_sheet import EDGE, SIDE_WIDTH


def shown(path: Path, widest: int, highest: int) -> tuple[str, float]:
    """The picture, upright and small enough, as PNG in base64, and how many of its pixels one shown one stands for.

    Raises PhotoRefused for what is no picture.
    """
    from PIL import Image

    photo = open_photo(path, 4 * widest * highest, least_side=1)
    png, shrunk = _small(Image.fromarray(photo.rgb8), widest, highest)
    return png, shrunk * photo.reduction[0]


def lattice_shown(path: Path, widest: int, highest: int) -> str:
    """The photograph with its lattice, out of the sheet that ``measure --picture`` writes, as PNG in base64."""
    from PIL import Image, ImageChops

    sheet = Image.fromarray(open_photo(path, MOST_PIXELS).rgb8)
    part = sheet.crop((EDGE, EDGE, sheet.width - SIDE_WIDTH - 2 * EDGE, sheet.height))
    paper = Image.new("RGB", part.size, sheet.getpixel((0, 0)))
    _, _, _, bottom = ImageChops.difference(part, paper).getbbox() or (0, 0, *part.size)
    return _small(part.crop((0, 0, part.width, bottom)), widest, highest)[0]


def _small(image: object, widest: int, highest: int) -> tuple[str, float]:
    from PIL import Image

    assert isinstance(image, Image.Image)
    shrunk = max(1.0, image.width / widest, image.height / highest)
    small = image.resize((max(1, round(image.width / shrunk)), max(1, round(image.height / shrunk))))
    held = io.BytesIO()
    small.save(held, "PNG")
    return base64.b64encode(held.getvalue()).decode(), shrunk
