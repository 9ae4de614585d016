"""The face of a simulated cloth: one repeat of the job's print as light it reflects, in the job's own colours.

A print that mirrors from top to bottom on its rows is the minnow print; any other is a plain motif with the mirrors,
slides and half-turns the job says, or the picture of its repeat that the job names. So what is seen to match at a
seam, or to mirror in a pair, is what would.
"""

from __future__ import annotations

from functools import lru_cache
from math import sqrt
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from jobs.job import Cloth, End, Run, Symmetry
from jobs.photo.opening import open_photo
from jobs.photo.refusals import PhotoRefused
from projector.scene.motif import Image as Place
from projector.scene.motif import images_of, motif_of
from projector.simulated import minnows
from projector.simulated.brightness import linear_of, linear_of_hex

PX_PER_IN = 24.0
_OVERSAMPLE = 4
_MOST_PX = 1600
"""Of a side of the texture: a repeat longer than a table is drawn coarser."""
_MOST_PICTURE_PX = 500_000
_SHARE = 0.62
"""Of the lesser repeat that a motif takes, by its longer side."""


@lru_cache(maxsize=8)
def face_of(cloth: Cloth) -> minnows.Texture:
    """Reflectance (rows along, columns across, 3) of one repeat with its motif point in the middle; (1, 1, 3) of
    plain cloth. Rows run from the first end on, columns from the near selvedge."""
    if cloth.repeat is None:
        return linear_of_hex(cloth.colour).reshape(1, 1, 3)
    along, across = float(cloth.repeat.along), float(cloth.repeat.across or cloth.repeat.along)
    if cloth.picture and (printed := _from_picture(cloth)) is not None:
        return printed
    if _is_minnows(cloth):
        return minnows.tile(along, across, PX_PER_IN, minnows.Inks.of(cloth.colour, *cloth.motif_colours))
    return _drawn(cloth, along, across)


def _from_picture(cloth: Cloth) -> minnows.Texture | None:
    """The repeat in the picture the job names, None where it cannot be read."""
    try:
        pixels = open_photo(Path(cloth.picture), _MOST_PICTURE_PX).rgb8
    except PhotoRefused:
        return None
    if cloth.print.top_towards is End.LAST:
        pixels = pixels[::-1, ::-1]
    return linear_of(pixels)


def _is_minnows(cloth: Cloth) -> bool:
    sheet = cloth.print
    return (
        (sheet.top_to_bottom, sheet.side_to_side, sheet.half_turn) == (Symmetry.MIRROR, Symmetry.NONE, False)
        and sheet.mirror_offset == 0
        and cloth.drop == 0
        and cloth.run is Run.UP
    )


def _lying(at: Place, right: float, up: float, run: Run) -> tuple[float, float]:
    """Across and along of a point of a motif as it hangs: its top towards the first end, or, where cloth is run
    sideways, towards the far selvedge with the first end at its left."""
    if run is Run.SIDEWAYS:
        return at.right * up, at.up * right
    return at.right * right, -at.up * up


def _drawn(cloth: Cloth, along: float, across: float) -> minnows.Texture:
    scale = min(PX_PER_IN, _MOST_PX / max(along, across))
    size = (max(8, round(across * scale)), max(8, round(along * scale)))
    large = (size[0] * _OVERSAMPLE, size[1] * _OVERSAMPLE)
    picture = Image.new("RGB", large, cloth.colour)
    draw = ImageDraw.Draw(picture)
    images = images_of(cloth)
    motif_in = _SHARE * min(along, across) / sqrt(len(images))
    motif = motif_of(cloth)
    inks = cloth.motif_colours or (minnows.BODY, minnows.FINS)
    drop = float(cloth.drop) * along
    for image in images:
        for column in (-2, -1, 0, 1, 2):
            for row in (-2, -1, 0, 1, 2):
                at = (
                    across / 2 + float(image.across) + column * across,
                    along / 2 + float(image.along) + row * along + column * drop,
                )
                for number, part in enumerate(motif):
                    points = [_lying(image, x * motif_in, y * motif_in, cloth.run) for x, y in part]
                    draw.polygon(
                        [((at[0] + x) * large[0] / across, (at[1] + y) * large[1] / along) for x, y in points],
                        fill=inks[number % len(inks)],
                    )
    if cloth.print.top_towards is End.LAST:
        picture = picture.transpose(Image.Transpose.ROTATE_180)
    return linear_of(np.asarray(picture.resize(size, Image.Resampling.BOX)))
