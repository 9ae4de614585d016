"""What should give a person pause: how far off a line may be, an old calibration, high cloth, too bright a room."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from functools import lru_cache

import numpy as np

from calibration.height import LensTooLow, possible_shift_in
from calibration.table import Table
from calibration.uncertainty import Uncertainty
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.records import dataclass
from projector.files.table_file import Stored
from projector.light.appearance import Illumination
from projector.light.choosing import FLOOR, ranked_choices, room_to_reach
from projector.scene.boxes import Box
from projector.scene.marks import Point
from projector.session.cutting.light import light_on
from projector.session.layout import is_inside, words_area
from projector.words.measures import format_error, format_length

LOOKS = 33
OLD_DAYS = 30
"""An older calibration is called old (a setting)."""


@dataclass(frozen=True)
class Doubt:
    """``error_of`` a line and the tolerance it is held against, both inches; ``say`` puts an error into words."""

    error_of: Callable[[Point, Point], float]
    tolerance_in: float
    say: Callable[[float], str]
    is_lit: Callable[[Box], bool]


def doubt_of(table: Table, tolerance_in: float, unit: str = "in") -> Doubt:
    """The doubt that a calibration leaves; lines count as far as they are lit, and not at all where they are not.

    What is said beside a line stands where all words stand: lit, and on the table.
    """
    made = Uncertainty(table)
    area = words_area(table)

    @lru_cache(maxsize=256)
    def error_of(start: Point, end: Point) -> float:
        points = np.array(start) + np.linspace(0, 1, LOOKS)[:, None] * np.subtract(end, start)
        lit = points[table.contains(points)]
        return 0.0 if len(lit) < 2 else made.along_line(lit[0], lit[-1]).across_in

    def say(error_in: float) -> str:
        return f"within {format_error(error_in, unit)}"

    def is_lit(box: Box) -> bool:
        return all(is_inside(corner, area) for corner in box.corners)

    return Doubt(error_of, tolerance_in, say, is_lit)


def age_days(made: str, today: date) -> int | None:
    """Days since a date as it stands in a table file; None where there is none that can be read."""
    try:
        return (today - date.fromisoformat(made[:10])).days
    except ValueError:
        return None


def age_in_words(made: str, today: date) -> str:
    """How old a calibration is and what follows; empty when it is of today."""
    days = age_days(made, today)
    if days is None:
        return "It is not known when this was calibrated."
    if days < 0:
        return f"This was calibrated on {made[:10]}, which is still to come: set the date of the computer."
    if days == 0:
        return ""
    since = f"This was calibrated {'yesterday' if days == 1 else f'{days} days ago'} ({made[:10]})."
    return f"{since} That is long: things move. Calibrate anew, or check with a tape." if days > OLD_DAYS else since


def notices_of(stored: Stored, today: date, display: str = "") -> tuple[str, ...]:
    """What to say of a calibration when it is used today, on a screen of this name (empty: not known)."""
    other = ""
    if stored.display and display and stored.display != display:
        other = f"It was made on another screen: {stored.display}; this is {display}. Check it before you cut."
    return tuple(said for said in (age_in_words(stored.table.date, today), other) if said)


def raised_in(cloth: Cloth) -> Fraction:
    """How high above the table the upper face of the cloth lies; 0 where its thickness is not known."""
    return (cloth.thickness or Fraction(0)) * cloth.layers


def raised_table(table: Table, cloth: Cloth) -> Table:
    """The table for light on the cloth's upper face, where lens position and thickness are known, else as it is.

    Raises ``LensTooLow``.
    """
    height = float(raised_in(cloth))
    return table.on_surface(height) if height and table.lens_position else table


def height_in_words(table: Table, cloth: Cloth, unit: str = "in") -> str:
    """What the thickness of the cloth does to the light; empty where there is nothing to say."""
    height = float(raised_in(cloth))
    if not height:
        return ""
    thick = format_length(height, unit)
    if table.lens_position:
        return f"The cloth lies {thick} high: the light is put right for that."
    try:
        shift = format_error(possible_shift_in(table.lit_area(), height), unit)
    except LensTooLow:
        shift = "any amount"
    return (
        f"The cloth lies {thick} high and nobody said where the lens is: the light may be off by up to {shift}, most "
        "at the edges. Give --lens-height and --lens-foot to calibrate, and it is put right."
    )


@lru_cache(maxsize=4)
def room_in_words(ground: str, motifs: tuple[str, ...], light: Illumination) -> str:
    """What to do where the room is too bright for lines to be seen well on the cloth; empty where it is not."""
    surfaces = (ground, *motifs)
    best = ranked_choices(ground, motifs, light)[0].least_contrast
    if best >= FLOOR:
        return ""
    said = (
        f"This cloth swallows light: the thinnest lines are only {best:.1f} times as bright as the cloth beside them."
    )
    room = room_to_reach(surfaces, light)
    if room is None:
        return f"{said} Darken the room as far as you can and widen the lines (+)."
    return (
        f"{said} Darken the room to {_rounded_down(room)} lx or less (now {light.room_lx:g}), or widen the lines (+)."
    )


def room_of_job(job: Job) -> str:
    """The same for the cloth and the light of a job."""
    return room_in_words(job.cloth.colour, job.cloth.motif_colours, light_on(job))


def _rounded_down(lux: float) -> int:
    """To what a light meter or a dimmer can be set by: whole tens, or fives below fifty."""
    step = 10 if lux >= 50 else 5
    return int(lux // step * step)
