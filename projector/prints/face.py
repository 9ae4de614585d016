"""The face of a cloth: one repeat of its print, as pixels and, where it is drawn, as shapes too."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from jobs.cutting.columns import columns_across
from jobs.model.choices import End, Run
from jobs.model.cloth import Cloth
from jobs.model.records import dataclass
from jobs.prints.photographs.opening import open_photo
from jobs.prints.photographs.problems import PhotoCode, PhotoRefused
from projector.prints.sign import Shape, shapes_of
from projector.prints.symmetry import lattice_of
from projector.words.wording import words

Array = NDArray[np.float64]
Pixels = NDArray[np.uint8]

MOST_PIXELS = 1_500_000
_DRAWN_PER_INCH = 24.0
_MOST_PX = 1200
"""Of a side of a drawn repeat: one that is longer than a table is drawn coarser."""
_OVERSAMPLE = 4
_UNLIKE = 0.03
"""Share by which the sides of a picture may stand to each other otherwise than the repeats, before that is said."""


@dataclass(frozen=True)
class Face:
    """One repeat of a print as the cloth lies: ``pixels`` (along, across, 3), sRGB, the motif point in the middle.

    The first line lies nearest the first end, the first column nearest the near selvedge. ``along`` and ``across`` are
    inches, 0 for plain cloth; ``drop`` is how far the next column lies further along, inches. ``shapes`` are what the
    pixels of a drawn print were drawn from, on ``ground``; None where they were photographed. ``column`` is where the
    column lies that rows are counted on, from the near selvedge. ``notices`` are for the person to read.
    """

    pixels: Pixels
    along: float
    across: float
    drop: float
    column: float
    ground: str
    shapes: tuple[Shape, ...] | None
    notices: tuple[str, ...] = ()

    def sized(self, pixels_per_inch: float) -> Face:
        """The same with no more pixels than are shown at this scale, so that fine lines do not flicker."""
        high, wide = self.pixels.shape[:2]
        wanted = (
            max(1, min(wide, round(self.across * pixels_per_inch))),
            max(1, min(high, round(self.along * pixels_per_inch))),
        )
        small = Image.fromarray(self.pixels).resize(wanted, Image.Resampling.BOX)
        return replace(self, pixels=np.asarray(small))

    def shares(self, along: Array, across: Array) -> tuple[Array, Array]:
        """Where in the repeat (shares of its length and width, 0 to 1) places lie that are ``along`` inches after a
        row of the first column and ``across`` inches from the near selvedge."""
        if not self.along:
            return np.zeros_like(along), np.zeros_like(across)
        columns = (across - self.column) / self.across + 0.5
        number = np.floor(columns)
        return ((along - number * self.drop) / self.along + 0.5) % 1, columns - number

    def pixels_at(self, along: Array, across: Array) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Line and column of the pixel at such places."""
        high, wide = self.pixels.shape[:2]
        down, right = self.shares(along, across)
        return (down * high).astype(np.intp) % high, np.minimum((right * wide).astype(np.intp), wide - 1)

    def colours_at(self, along: Array, across: Array) -> Pixels:
        """Colours (..., 3) at such places; between pixels they are blended."""
        high, wide = self.pixels.shape[:2]
        down, right = self.shares(along, across)
        y, x = down * high - 0.5, right * wide - 0.5
        upper, left = np.floor(y).astype(np.intp), np.floor(x).astype(np.intp)
        share_y, share_x = (y - upper)[..., None], (x - left)[..., None]
        fall = 0.0 if not self.along else self.drop / self.along * high

        def line(number: NDArray[np.intp]) -> Array:
            return self._beside(number, left, fall) * (1 - share_x) + self._beside(number, left + 1, fall) * share_x

        colours: Pixels = (line(upper) * (1 - share_y) + line(upper + 1) * share_y + 0.5).astype(np.uint8)
        return colours

    def _beside(self, line: NDArray[np.intp], column: NDArray[np.intp], fall: float) -> Array:
        """Pixels of the repeat or, past its sides, of the next column, which lies ``fall`` lines further on."""
        high, wide = self.pixels.shape[:2]
        moved = line - np.rint(column // wide * fall).astype(np.intp)
        return np.asarray(self.pixels[moved % high, column % wide], np.float64)

    def shapes_between(self, along: tuple[float, float], across: tuple[float, float]) -> Iterator[Shape]:
        """The shapes of a drawn print that touch a rectangle of the cloth, each colour's together: ``along`` in inches
        after a row of the first column, ``across`` from the near selvedge, as are their points."""
        for shape in self.shapes or ():
            rows, columns = zip(*shape.points, strict=True)
            first = np.ceil((across[0] - self.column - max(columns)) / self.across)
            last = np.floor((across[1] - self.column - min(columns)) / self.across)
            for column in np.arange(first, last + 1):
                off = column * self.drop
                top = np.ceil((along[0] - off - max(rows)) / self.along)
                for row in np.arange(top, np.floor((along[1] - off - min(rows)) / self.along) + 1):
                    down, right = float(row * self.along + off), float(self.column + column * self.across)
                    yield Shape(shape.colour, tuple((a + down, c + right) for a, c in shape.points))


def face_of(cloth: Cloth) -> Face:
    """The picture of its repeat that the job names, or the sign where it names none or that cannot be read."""
    if cloth.repeat is None:
        return _plain(cloth)
    if not cloth.picture:
        return _drawn(cloth)
    path = Path(cloth.picture)
    try:
        return photographed(path, cloth)
    except PhotoRefused as refused:
        what, _ = words(refused.problems[0])
        notice = f"{path}: {what}; a plain sign is drawn. Write another `picture`, or leave it out."
        return replace(_drawn(cloth), notices=(notice,))


def photographed(path: Path, cloth: Cloth) -> Face:
    """A picture of one whole repeat, its tops up. Raises ``PhotoRefused`` for what is none."""
    if cloth.repeat is None:
        raise PhotoRefused(PhotoCode.PLAIN_CLOTH)
    changed = path.stat().st_mtime_ns if path.exists() else 0
    pixels = _opened(path, changed)
    high, wide = pixels.shape[:2]
    sideways = cloth.run is Run.SIDEWAYS
    # As it lies: tops towards the first end or the last, or, on cloth run sideways, towards the far selvedge.
    lying = pixels[::-1].transpose(1, 0, 2) if sideways else pixels
    if not sideways and cloth.print.top_towards is End.LAST:
        lying = lying[::-1, ::-1]
    by_shape = Fraction(lying.shape[1], lying.shape[0]) * cloth.repeat.along
    lattice = lattice_of(cloth, by_shape)
    shape, wanted = wide / high, float(lattice.across / lattice.along)
    wanted = 1 / wanted if sideways else wanted
    notices: tuple[str, ...] = ()
    if abs(shape / wanted - 1) > _UNLIKE:
        notices = (
            f"The tile is {shape:.2f} times as wide as high, the repeat {wanted:.2f} times: it is stretched. "
            "Cut the picture to one whole repeat.",
        )
    sizes = (float(lattice.along), float(lattice.across), float(lattice.drop))
    return Face(np.ascontiguousarray(lying), *sizes, float(columns_across(cloth)[0]), cloth.colour, None, notices)


def png_of(pixels: Pixels) -> bytes:
    """The pixels (height, width, 3) as a PNG file."""
    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "PNG")
    return held.getvalue()


@lru_cache(maxsize=4)
def _opened(path: Path, changed: int) -> Pixels:
    """The pixels of a picture file as it was when it was last ``changed``."""
    return open_photo(path, MOST_PIXELS).rgb8


def _plain(cloth: Cloth) -> Face:
    pixel = np.frombuffer(bytes.fromhex(cloth.colour.removeprefix("#")), np.uint8).reshape(1, 1, 3)
    return Face(pixel, 0.0, 0.0, 0.0, float(cloth.width) / 2, cloth.colour, ())


@lru_cache(maxsize=8)
def _drawn(cloth: Cloth) -> Face:
    """The sign as often as the symmetry of the print has it."""
    lattice = lattice_of(cloth)
    along, across, drop = float(lattice.along), float(lattice.across), float(lattice.drop)
    high, wide = (max(8, min(_MOST_PX, round(inches * _DRAWN_PER_INCH))) for inches in (along, across))
    size = np.array([high, wide]) * _OVERSAMPLE
    picture = Image.new("RGB", (int(size[1]), int(size[0])), cloth.colour)
    draw = ImageDraw.Draw(picture)
    # The motif point lies in the middle of the repeat, so half a repeat after its upper and left sides.
    face = Face(np.zeros((1, 1, 3), np.uint8), along, across, drop, across / 2, cloth.colour, shapes_of(cloth, lattice))
    for shape in face.shapes_between((-along / 2, along / 2), (0.0, across)):
        places = np.add(shape.points, (along / 2, 0.0)) / (along, across) * size - 0.5
        draw.polygon([(x, y) for y, x in places.tolist()], fill=shape.colour)
    pixels = np.asarray(picture.resize((wide, high), Image.Resampling.BOX))
    return replace(face, pixels=pixels, column=float(columns_across(cloth)[0]))
