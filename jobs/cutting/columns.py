"""Where the columns of the print lie across the cloth, and where its cuts are seamed so that the print runs on."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import Run
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.resolved import Seams


def printed_width(cloth: Cloth) -> Fraction:
    """The cloth width between the selvedge strips."""
    return cloth.width - 2 * cloth.selvedge


def columns_across(cloth: Cloth) -> tuple[Fraction, ...]:
    """Distances of the columns from the near selvedge; the first row of a piece belongs to the first of them.

    From ``first_column`` on where it was measured; else as many whole ones as fit the printed width, centred. One
    column in the middle when the repeat across is unknown or wider than the print.
    """
    across = cloth.repeat.across if cloth.repeat is not None else None
    if across is None:
        return (cloth.first_column if cloth.first_column is not None else cloth.width / 2,)
    if cloth.first_column is not None:
        count = max(1, int((cloth.width - cloth.selvedge - cloth.first_column) // across) + 1)
        return tuple(cloth.first_column + j * across for j in range(count))
    count = max(1, int(printed_width(cloth) // across))
    first = cloth.width / 2 - (count - 1) * across / 2
    return tuple(first + j * across for j in range(count))


def rows_apart(cloth: Cloth) -> Fraction | None:
    """How far apart rows hang: the repeat along, or across where the cloth is run sideways; None where not known."""
    if cloth.repeat is None:
        return None
    return cloth.repeat.across if cloth.run is Run.SIDEWAYS else cloth.repeat.along


def seams(job: Job) -> Seams:
    """The widest whole number of columns that fits between two seams, centred on the cloth."""
    cloth, allowance = job.cloth, job.allowances.seam
    room = printed_width(cloth) - 2 * allowance
    across = cloth.repeat.across if cloth.repeat is not None else None
    columns = int(room // across) if across is not None and room > 0 else 0
    if across is None or columns == 0:
        return Seams(cloth.selvedge + allowance, room, 0)
    return Seams((cloth.width - columns * across) / 2, columns * across, columns)
