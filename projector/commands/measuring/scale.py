"""The scale of a photograph, from the one way of telling it that the person used."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.records import dataclass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from jobs.prints.photographs.measuring import Measurement
    from jobs.prints.photographs.scale import Scale

    Array = NDArray[np.float64]


Pixel = tuple[float, float]
WAYS = "--pixels-per-inch, --points with --distance, --cloth-width, --corners with --size, or --tape with --tick"


@dataclass(frozen=True)
class GivenScale:
    """What the options say of the scale; lengths in inches, places in pixels of the file."""

    pixels_per_inch: float | None = None
    points: tuple[Pixel, Pixel] | None = None
    distance: float | None = None
    cloth_width: float | None = None
    selvedges: tuple[float, float] | None = None
    corners: tuple[Pixel, ...] | None = None
    size: tuple[float, float] | None = None
    tape: tuple[Pixel, Pixel] | None = None
    tick: float | None = None

    def check(self, photos: int) -> None:
        """Raise UsageError unless just one way is used, and wholly."""
        ways = [self.pixels_per_inch, self.points, self.cloth_width, self.corners, self.tape]
        halves = [(self.points, self.distance), (self.corners, self.size), (self.tape, self.tick)]
        if sum(way is not None for way in ways) != 1 or any((a is None) != (b is None) for a, b in halves):
            raise click.UsageError(f"give the scale in one way: {WAYS}")
        if self.selvedges is not None and self.cloth_width is None:
            raise click.UsageError("--selvedges goes with --cloth-width")
        if photos > 1 and (self.points or self.corners or self.tape or self.selvedges):
            raise click.UsageError("points belong to one picture: give --pixels-per-inch or --cloth-width for several")
        for pair in (self.points, self.tape):
            if pair is not None and math.dist(*pair) == 0:
                raise click.UsageError("the two points must lie apart in the picture")
        if self.selvedges is not None and self.selvedges[0] == self.selvedges[1]:
            raise click.UsageError("the two selvedges must lie apart in the picture")


@dataclass(frozen=True)
class Rectangle:
    """Four marked corners from the top left round, and the map (3, 3) from pixels to inches they give."""

    corners: Array
    level: Array
    error: float


def rectangle(given: GivenScale) -> Rectangle | None:
    """The marked rectangle, None without one. Raises UsageError for corners that are none."""
    if given.corners is None or given.size is None:
        return None
    import numpy as np

    from calibration.homography import BeyondHorizon, estimate
    from jobs.prints.photographs.scale import MARK_ERROR_PX

    marked = np.array(given.corners, float)
    around = marked - marked.mean(0)
    marked = marked[np.argsort(np.arctan2(around[:, 1], around[:, 0]))]
    sides = np.roll(marked, -1, 0) - marked
    turns = sides[:, 0] * np.roll(sides[:, 1], -1) - sides[:, 1] * np.roll(sides[:, 0], -1)
    if not (turns > 0.05 * np.hypot(*sides.T) * np.hypot(*np.roll(sides, -1, 0).T)).all():
        raise click.UsageError("the four corners must be those of one rectangle, none in line with two others")
    wide, high = given.size
    try:
        level = estimate(marked, np.array([(0, 0), (wide, 0), (wide, high), (0, high)]))
    except BeyondHorizon:
        raise click.UsageError("the four corners must be those of one rectangle") from None
    shortest = float(np.hypot(*sides.T).min())
    return Rectangle(marked, np.asarray(level / level[2, 2], np.float64), MARK_ERROR_PX / shortest)


def scale_of(
    path: Path, found: Measurement, given: GivenScale, marked: Rectangle | None, sides: tuple[Side, Side] | None
) -> Scale:
    """Level pixels an inch. Raises PhotoRefused where the tape shows no ticks."""
    from jobs.prints.photographs import scale

    if given.pixels_per_inch is not None:
        return scale.Scale(given.pixels_per_inch, 0.0, scale.Source.PIXELS_PER_INCH)
    if marked is not None:
        return scale.Scale(1.0, marked.error, scale.Source.CORNERS)
    if given.points is not None and given.distance is not None:
        return scale.between_points(found.lattice, *given.points, given.distance)
    if given.tape is not None and given.tick is not None:
        return _by_tape(path, found, given.tape, given.tick)
    assert given.cloth_width is not None
    assert sides is not None
    left, right = sides
    source = scale.Source.CLOTH if left.found and right.found else scale.Source.WHOLE_PICTURE
    return scale.across_cloth(
        found.lattice, (left.point, right.point), given.cloth_width, max(left.error_px, right.error_px), source
    )


def _by_tape(path: Path, found: Measurement, tape: tuple[Pixel, Pixel], tick: float) -> Scale:
    import numpy as np

    from jobs.prints.photographs.opening import open_photo
    from jobs.prints.photographs.scale import Scale, Source, ticks_between

    (x0, y0), (x1, y1) = tape
    around = 24
    box = (min(x0, x1) - around, min(y0, y1) - around, max(x0, x1) + around, max(y0, y1) + around)
    photo = open_photo(path, 8_000_000, crop=box)
    ticks = ticks_between(photo, found.lattice.level, np.array(tape[0], float), np.array(tape[1], float))
    return Scale(ticks.spacing_px / tick, ticks.error_px / ticks.spacing_px, Source.TAPE, ticks.count)


@dataclass(frozen=True)
class Side:
    """A point of one selvedge, how far it may be off, and whether it was seen or given, not the picture's own edge."""

    point: Pixel
    error_px: float
    found: bool


def sides_of(path: Path, given: GivenScale) -> tuple[Side, Side] | None:
    """Left and right selvedge at half height, None where the scale does not hang on them. Raises PhotoRefused."""
    if given.cloth_width is None:
        return None
    from jobs.prints.photographs.measuring import COARSE_PIXELS
    from jobs.prints.photographs.opening import open_photo
    from jobs.prints.photographs.scale import MARK_ERROR_PX, cloth_edges

    photo = open_photo(path, COARSE_PIXELS)
    wide, high = photo.size
    if given.selvedges is not None:
        left, right = (Side((x, high / 2), MARK_ERROR_PX, True) for x in sorted(given.selvedges))
        return left, right
    edges = cloth_edges(photo)
    left, right = (
        Side((edge.middle_px if edge else x, high / 2), edge.error_px if edge else 2.0, edge is not None)
        for edge, x in zip(edges, (0.0, float(wide)), strict=True)
    )
    return left, right
