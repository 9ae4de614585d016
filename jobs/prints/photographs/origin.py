"""Where rows, columns and mirror lines lie: the point of the print they are counted from."""

from __future__ import annotations

import numpy as np

from jobs.model.choices import Symmetry
from jobs.model.records import dataclass
from jobs.prints.photographs.measuring import Measurement
from jobs.prints.photographs.opening import Array
from jobs.prints.photographs.plane import mapped

TOLD_FROM = 0.004
"""Of a repeat: how far a mirror line must lie from a row to be told from one through it."""


@dataclass(frozen=True)
class Origin:
    """``place`` (2,) in repeats along and columns across of the lattice: a row and a column go through it.

    ``pixel`` is the same in the file. The nearest mirror (or glide) lines lie ``mirror_along`` level pixels down from
    the row, and ``mirror_across`` to the right of the column; None where there are none.
    """

    place: Array
    pixel: Array
    mirror_along: float | None
    mirror_across: float | None


def origin_of(found: Measurement, row_px: tuple[float, float] | None = None) -> Origin:
    """The origin at ``row_px``, a place of the file; else on the mirror lines, or in the centre of the half-turn."""
    lattice, seen = found.lattice, found.symmetry
    down = seen.down.place[0] if seen.down and seen.top_to_bottom is not Symmetry.NONE else None
    side = seen.side.place[1] if seen.side and seen.side_to_side is not Symmetry.NONE else None
    cell = found.cell
    if row_px is not None:
        place = mapped(np.linalg.inv(lattice.in_file), np.array(row_px, float))
    else:
        turn = seen.turn.place if seen.half_turn else (0.0, 0.0)
        place = np.array([turn[0] if down is None else down, turn[1] if side is None else side]) @ cell
        place = place + np.rint(mapped(np.linalg.inv(lattice.in_file), found.view.middle) - place)
    shares = place @ np.linalg.inv(cell)
    along = None if down is None else float((down - shares[0]) % 0.5) * lattice.along
    across = None if side is None else float((side - shares[1]) % 0.5) * lattice.across * found.columns
    wide = lattice.across * found.columns
    return Origin(place, mapped(lattice.in_file, place), _settled(along, lattice.along), _settled(across, wide))


def _settled(value: float | None, repeat: float) -> float | None:
    """A line nearer to the row than can be told goes through it; lines come again after half a repeat."""
    near = value is not None and min(value, repeat / 2 - value) < TOLD_FROM * repeat
    return 0.0 if near else value
