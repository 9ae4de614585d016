"""Where the columns of the print lie across the cloth, and where its cuts are seamed so that the print runs on."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.allowances import Allowances
from jobs.model.choices import Run
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge
from jobs.model.resolved import Seams


def printed_width(cloth: Cloth) -> Fraction:
    """The cloth width between the selvedge strips."""
    return cloth.width - cloth.near_selvedge - cloth.far_selvedge


def selvedge_at(edge: Edge, cloth: Cloth) -> Fraction:
    """The unprinted strip at this selvedge."""
    return cloth.near_selvedge if edge is Edge.NEAR else cloth.far_selvedge


def middle_of_print(cloth: Cloth) -> Fraction:
    """Halfway between the printed edges, from the near selvedge edge; of even selvedges the middle of the cloth."""
    return (cloth.near_selvedge + cloth.width - cloth.far_selvedge) / 2


def columns_across(cloth: Cloth) -> tuple[Fraction, ...]:
    """Distances of the columns from the near selvedge; the first row of a piece belongs to the first of them.

    From ``first_column`` on where it was measured; else as many whole ones as fit the printed width, centred. One
    column in the middle when the repeat across is unknown or wider than the print.
    """
    across = cloth.repeat.across if cloth.repeat is not None else None
    if across is None:
        return (cloth.first_column if cloth.first_column is not None else middle_of_print(cloth),)
    if cloth.first_column is not None:
        count = max(1, int((cloth.width - cloth.far_selvedge - cloth.first_column) // across) + 1)
        return tuple(cloth.first_column + j * across for j in range(count))
    count = max(1, int(printed_width(cloth) // across))
    first = middle_of_print(cloth) - (count - 1) * across / 2
    return tuple(first + j * across for j in range(count))


def rows_apart(cloth: Cloth) -> Fraction | None:
    """How far apart rows hang: the repeat along, or across where the cloth is run sideways; None where not known."""
    if cloth.repeat is None:
        return None
    return cloth.repeat.across if cloth.run is Run.SIDEWAYS else cloth.repeat.along


def seam_allowance(edge: Edge, cloth: Cloth, allowances: Allowances, lines: Seams) -> Fraction:
    """What is left outside the seam line at this side; print that lies further out than a seam takes is trimmed."""
    inset = lines.inset(edge)
    takes = allowances.seam if cloth.repeat is None else max(allowances.seam, allowances.least_seam)
    return takes if inset - takes > selvedge_at(edge, cloth) else inset


def seams(cloth: Cloth, allowances: Allowances) -> Seams:
    """Where the cuts of a panel are seamed: the selvedge counts as seam allowance, never on top of it.

    Plain cloth is seamed at its selvedge strips, or further in where a seam takes more. A print is seamed the most
    whole columns apart that lie between its edges and leave the least seam outside either line. Where the repeat across
    is wider than the print no column comes twice; then cuts are joined at the printed edges, where cloth is drawn to go
    on (*Figuring Pattern Repeats*, DIY Ideas; Pate Meadows, matching prints), if the rows there are known: of a
    straight print level, of another where only the selvedge strips are missing from a whole column.
    """
    least = allowances.seam if cloth.repeat is None else allowances.least_seam
    near, far = max(cloth.near_selvedge, least), max(cloth.far_selvedge, least)
    across, room = cloth.repeat.across if cloth.repeat is not None else None, cloth.width - near - far
    if across is None:
        return Seams(near, far, room, 0)
    if across > printed_width(cloth):
        at_print = room == printed_width(cloth) and (not cloth.drop or across <= cloth.width)
        return Seams(near, far, room, int(at_print and bool(cloth.drop)), at_print)
    columns = max(0, int(room // across))
    over = (room - columns * across) / 2 if columns else Fraction(0)
    return Seams(near + over, far + over, room - 2 * over, columns)
