"""A photograph as a person takes it: a printed page on a wooden table under a desk lamp, a ruler beside it.

The print is invented: sprigs with a bent stalk, mirrored from side to side, every other column half a repeat lower.
"""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from jobs.prints.photographs.cells import sample
from tests.jobs.prints.photographs.pictures import slanted

ALONG_IN, ACROSS_IN = 2.4, 1.5
PAGE_IN = (11.0, 14.0)
GROUND, LEAF, BERRY = (236, 226, 204), (74, 112, 82), (176, 62, 54)
RULER_IN = 10.0
_PER_INCH = 400
_FINER = 2


def page():
    """The page as printed, flat (h, w, 3) in [0, 1], 200 pixels an inch, with a white margin and a ruler below."""
    wide, high = (round(side * _PER_INCH) for side in PAGE_IN)
    image = Image.new("RGB", (wide, high), GROUND)
    draw = ImageDraw.Draw(image)
    for column in range(-1, int(PAGE_IN[0] / ACROSS_IN) + 2):
        for row in range(-2, int(PAGE_IN[1] / ALONG_IN) + 2):
            sprig(draw, (column * ACROSS_IN + 0.4) * _PER_INCH, (row + 0.5 * (column % 2)) * ALONG_IN * _PER_INCH)
    margin = round(0.25 * _PER_INCH)
    edge = Image.new("RGB", image.size, "white")
    inner = image.crop((margin, margin, wide - margin, high - round(1.1 * _PER_INCH)))
    edge.paste(inner, (margin, margin))
    ruler(ImageDraw.Draw(edge), 0.5 * _PER_INCH, high - 0.2 * _PER_INCH)
    return np.asarray(edge.reduce(_FINER), np.float32) / 255


def sprig(draw, x, y):
    size = 0.55 * _PER_INCH
    for side in (-1, 1):
        for k, (at, long) in enumerate(((-0.7, 0.55), (-0.1, 0.8), (0.5, 0.5))):
            points = [(0, 0), (0.35, -0.18), (1, -0.5), (0.55, 0.05)]
            draw.polygon([(x + side * px * long * size, y + (at + py * long) * size) for px, py in points], LEAF)
            if k == 1:
                bx, by = x + side * 0.62 * size, y + 0.42 * size
                draw.ellipse((bx - 24, by - 24, bx + 24, by + 24), BERRY)
    draw.line([(x, y - 0.95 * size), (x, y + 0.95 * size)], LEAF, 16)
    draw.ellipse((x - 40, y - 1.2 * size - 40, x + 40, y - 1.2 * size + 40), BERRY)


def ruler(draw, x, foot):
    """Ten inches of eighths, upwards from the line ``foot``."""
    for k in range(int(RULER_IN * 8) + 1):
        at = x + k * _PER_INCH / 8
        tall = 0.5 if k % 8 == 0 else 0.35 if k % 4 == 0 else 0.25
        draw.rectangle((at - 5, foot - tall * _PER_INCH, at + 5, foot), "black")


def table(size):
    chance = np.random.default_rng(4)
    y, x = np.mgrid[: size[0], : size[1]]
    grain = np.sin(y / 9 + 2 * np.sin(x / 160) + chance.normal(0, 0.3, (size[0], 1)))
    return np.clip(np.array([0.42, 0.28, 0.17]) * (1 + 0.10 * grain[..., None]), 0, 1)


def lamp_photo(size=(1500, 2000), tilt_deg=(4.0, -3.0), turn_deg=1.5, seed=2):
    """The photograph (h, w, 3) in [0, 1], and a function that tells the pixel of a place of the page in inches."""
    chance = np.random.default_rng(seed)
    high, wide = size[1], size[0]
    sheet = page()
    y, x = np.mgrid[:high, :wide] + 0.5
    per_inch = min(wide / (PAGE_IN[0] * 1.16), high / (PAGE_IN[1] * 1.12))
    middle = np.array([wide / 2, high / 2])

    nought = slanted(np.zeros(1), np.zeros(1), tilt_deg, size)

    def on_page(px, py):
        dx, dy = slanted(px - middle[0], py - middle[1], tilt_deg, size)
        dx, dy = dx - nought[0], dy - nought[1]
        turn = np.radians(turn_deg)
        return (
            (dx * np.cos(turn) - dy * np.sin(turn)) / per_inch + PAGE_IN[0] / 2,
            (dx * np.sin(turn) + dy * np.cos(turn)) / per_inch + PAGE_IN[1] / 2,
        )

    across, along = on_page(x, y)
    inside = (across > 0) & (across < PAGE_IN[0]) & (along > 0) & (along < PAGE_IN[1])
    seen = sample(sheet, np.stack([across, along], -1) * _PER_INCH / _FINER)
    picture = np.where(inside[..., None], seen, table((high, wide)))
    far = np.hypot(x / wide - 0.25, y / high - 0.2)
    lamp = 1.05 / (1 + 1.1 * far**2)
    picture = picture * lamp[..., None] * np.array([1.0, 0.86, 0.62])
    soft = Image.fromarray((np.clip(picture, 0, 1) * 255).astype(np.uint8)).filter(ImageFilter.GaussianBlur(1.2))
    noisy = np.asarray(soft, np.float32) / 255 + chance.normal(0, 0.012, picture.shape)

    def pixel_of(across_in, along_in):
        at = middle.copy()
        for _ in range(40):
            found = np.array(on_page(np.array([at[0]]), np.array([at[1]])))[:, 0]
            at = at + (np.array([across_in, along_in]) - found) * per_inch
        return at

    return np.clip(noisy, 0, 1), pixel_of


def write_photo(path, **how):
    """The photograph as a JPEG with what a telephone writes down, and ``pixel_of``."""
    picture, pixel_of = lamp_photo(**how)
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0xA405] = 27
    Image.fromarray((picture * 255).astype(np.uint8)).save(path, quality=85, exif=exif)
    return pixel_of
