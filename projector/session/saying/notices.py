"""What should give a person pause before an old calibration is used: its age, another screen, cloth that lies high."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from calibration.height import LensTooLow, possible_shift_in
from calibration.table import Table
from jobs.model.cloth import Cloth
from projector.files.table_file import Stored
from projector.words.measures import format_error, format_length

OLD_DAYS = 30
"""An older calibration is called old (a setting)."""


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
