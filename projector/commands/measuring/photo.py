"""MeasuredPhoto photograph measured: its print, its scale, and the pictures that are made of it."""

from __future__ import annotations

from functools import cached_property
from math import hypot
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from jobs.prints.photographs.combining import Sized
from jobs.prints.photographs.from_file import Box, measure_file
from jobs.prints.photographs.mean_tile import mean_tile
from jobs.prints.photographs.measuring import Measurement
from jobs.prints.photographs.opening import Photo, open_photo, upright_size
from jobs.prints.photographs.origin import Origin, origin_of
from jobs.prints.photographs.problems import PhotoRefused
from jobs.prints.photographs.scale import Scale
from projector.commands.measuring.scale import GivenScale, Pixel, Side, rectangle, scale_of, sides_of
from projector.commands.shared.errors import InputAtFault
from projector.words.wording import sentence

SHOWN_PIXELS = 1_600_000
_EDGE_SHARE = 0.01


@dataclass(frozen=True)
class MeasuredPhoto:
    """A measured photograph."""

    path: Path
    found: Measurement
    scale: Scale
    origin: Origin
    box: Box | None

    @property
    def sized(self) -> Sized:
        """In inches, the uncertainty of the scale included."""
        lattice, seen = self.found.lattice, self.found.symmetry
        along, across = lattice.along / self.scale.per_inch, lattice.across / self.scale.per_inch
        return Sized(
            along_in=along,
            along_error_in=hypot(lattice.along_error / self.scale.per_inch, along * self.scale.error),
            across_in=across,
            across_error_in=hypot(lattice.across_error / self.scale.per_inch, across * self.scale.error),
            drop=lattice.drop,
            drop_error=lattice.drop_error,
            symmetry=(seen.top_to_bottom, seen.side_to_side, seen.half_turn),
            confidence=self.found.confidence,
        )

    @cached_property
    def photo(self) -> Photo:
        """The picture with more of its pixels, for showing."""
        return open_photo(self.path, SHOWN_PIXELS, crop=self.box)

    @cached_property
    def tile(self) -> NDArray[np.uint8]:
        """The mean repeat."""
        cloth = open_photo(self.path, SHOWN_PIXELS, crop=self.found.region)
        return mean_tile(cloth, self.found.lattice, self.origin.place)


def measured_photo(
    path: Path, given: GivenScale, inside: tuple[Pixel, Pixel] | None, row: Pixel | None
) -> MeasuredPhoto:
    """Measure one photograph. Raises InputAtFault for what cannot be measured, UsageError for corners that are none."""
    marked = rectangle(given)
    try:
        _check_places(path, given, inside, row)
        sides = sides_of(path, given)
        box = _box(path, inside, sides)
        found = measure_file(
            path, crop=box, level=marked.level if marked else None, corners=marked.corners if marked else None
        )
        scale = scale_of(path, found, given, marked, sides)
    except PhotoRefused as refused:
        raise InputAtFault(f"{path}: {sentence(refused.problems[0])}") from None
    except ValueError:
        raise InputAtFault(f"{path}: the two points lie in one place of the cloth; give two apart") from None
    return MeasuredPhoto(path, found, scale, origin_of(found, row), box)


def _check_places(path: Path, given: GivenScale, inside: tuple[Pixel, Pixel] | None, row: Pixel | None) -> None:
    """Raise InputAtFault for places that are not in the picture, PhotoRefused for what is none."""
    places = {
        "--points": given.points or (),
        "--corners": given.corners or (),
        "--tape": given.tape or (),
        "--selvedges": tuple((x, 0.0) for x in given.selvedges or ()),
        "--inside": inside or (),
        "--row": (row,) if row else (),
    }
    if not any(places.values()):
        return
    wide, high = upright_size(path)
    lines = [
        f"{path}: {option}: {x:g},{y:g} lies outside the picture, which is {wide} x {high} pixels; "
        "count from its top left corner, to the right and down"
        for option, given in places.items()
        for x, y in given
        if not (0 <= x <= wide and 0 <= y <= high)
    ]
    if lines:
        raise InputAtFault(*lines)


def _box(path: Path, inside: tuple[Pixel, Pixel] | None, sides: tuple[Side, Side] | None) -> Box | None:
    """What is looked at: between the two places, or between selvedges that were found."""
    if inside is not None:
        (x0, y0), (x1, y1) = inside
        return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)
    if sides is None or not (sides[0].found or sides[1].found):
        return None
    left, right = (side.point[0] for side in sides)
    margin = _EDGE_SHARE * (right - left)
    return left + margin, 0.0, right - margin, 2 * sides[0].point[1]
