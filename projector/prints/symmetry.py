"""The symmetry that a job states of its print, as operations on places of the cloth, in exact inches.

A place is (along, across) from a motif point, as the cloth lies: along away from the first end, across away from the
near selvedge. Groups of plane symmetry: International Tables for Crystallography, vol. A.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from jobs.model.choices import Symmetry
from jobs.model.cloth import Cloth
from jobs.model.records import dataclass

ZERO, ONE = Fraction(0), Fraction(1)
MOST_OPERATIONS = 12
"""No plane group has more, counted up to the steps of its lattice."""
_OFF_LATTICE = 0.05
"""A turn by a third, a quarter or a sixth is taken where it meets the lattice as measured within this share of it."""
_TURNS = {"p3": 3, "p3m1": 3, "p31m": 3, "p4": 4, "p4m": 4, "p4g": 4, "p6": 6, "p6m": 6}

Place = tuple[Fraction, Fraction]
Matrix = tuple[Fraction, Fraction, Fraction, Fraction]

_SAME: Matrix = (ONE, ZERO, ZERO, ONE)


@dataclass(frozen=True)
class Lattice:
    """Repeat along, distance between columns across, and how far the next column lies further along, inches."""

    along: Fraction
    across: Fraction
    drop: Fraction = ZERO

    def steps(self, place: Place) -> Place:
        """The place in steps of the lattice: rows and columns."""
        columns = place[1] / self.across
        return (place[0] - columns * self.drop) / self.along, columns

    def place(self, rows: Fraction, columns: Fraction) -> Place:
        """The place so many rows and columns away."""
        return rows * self.along + columns * self.drop, columns * self.across

    def reduced(self, place: Place) -> Place:
        """The same place of the print, less than one step from the motif point along and across."""
        rows, columns = self.steps(place)
        return self.place(rows % 1, columns % 1)


@dataclass(frozen=True)
class Operation:
    """A symmetry: a place goes to ``matrix`` times the place, plus ``shift``."""

    matrix: Matrix
    shift: Place = (ZERO, ZERO)

    def __call__(self, place: Place) -> Place:
        a, b, c, d = self.matrix
        return a * place[0] + b * place[1] + self.shift[0], c * place[0] + d * place[1] + self.shift[1]

    def after(self, first: Operation) -> Operation:
        """First the other one, then this one."""
        return Operation(_times(self.matrix, first.matrix), self(first.shift))

    def about(self, centre: Place) -> Operation:
        """The same with its fixed point there instead of at the motif point."""
        moved = self(centre)
        return Operation(self.matrix, (self.shift[0] + centre[0] - moved[0], self.shift[1] + centre[1] - moved[1]))


def lattice_of(cloth: Cloth, across: Fraction | None = None) -> Lattice:
    """The lattice of a print; ``across`` is taken where the job does not know the repeat across (None: as along).

    Raises ValueError for plain cloth.
    """
    if cloth.repeat is None:
        raise ValueError("plain cloth has no lattice")
    wide = cloth.repeat.across or across or cloth.repeat.along
    return Lattice(cloth.repeat.along, wide, (cloth.drop or ZERO) * cloth.repeat.along)


def operations_of(cloth: Cloth, lattice: Lattice) -> tuple[Operation, ...]:
    """The symmetries that the job states, one for each image of a place in a repeat, the one that moves nothing first.

    What is not known is no symmetry; nor is what the lattice cannot have, such as a mirror where columns drop by a
    third.
    """
    found: tuple[Operation, ...] = (Operation(_SAME),)
    taken: list[Operation] = []
    for generator in _stated(cloth, lattice):
        if _keeps(lattice, generator) and (closed := _closed([*taken, generator], lattice)) is not None:
            found, taken = closed, [*taken, generator]
    return found


def _stated(cloth: Cloth, lattice: Lattice) -> Iterator[Operation]:
    """Mirrors, slides and turns, each about its line or centre.

    ``mirror_offset_across`` counts away from the near selvedge. A slide is half of what the print repeats after, level
    with itself.
    """
    sheet = cloth.print
    down, side = sheet.mirror_along, sheet.mirror_offset_across or ZERO
    lines = {sheet.top_to_bottom, sheet.side_to_side} & {Symmetry.MIRROR, Symmetry.GLIDE}
    if sheet.top_to_bottom in lines:
        level = lattice.across * (lattice.drop / lattice.along).denominator
        slide = level / 2 if sheet.top_to_bottom is Symmetry.GLIDE else ZERO
        yield Operation((-ONE, ZERO, ZERO, ONE), (2 * down, slide))
    if sheet.side_to_side in lines:
        slide = lattice.along / 2 if sheet.side_to_side is Symmetry.GLIDE else ZERO
        yield Operation((ONE, ZERO, ZERO, -ONE), (slide, 2 * side))
    if sheet.half_turn is True and not lines:
        yield Operation((-ONE, ZERO, ZERO, -ONE))
    folds = _TURNS.get(sheet.group or "")
    if folds is not None and (turn := _turn(folds, lattice)) is not None:
        centre = (down, side)
        if sheet.group == "p4g":
            # Its glide lines run a quarter of a repeat beside the centres of its quarter-turns.
            centre = (down - lattice.along / 4, side - lattice.across / 4)
        yield turn.about(centre)


def _turn(folds: int, lattice: Lattice) -> Operation | None:
    """A turn that takes the lattice to itself exactly: the true one, or where lengths were measured or rounded, the
    one in whole steps of the lattice that is nearest. None where the lattice has no such turn."""
    cos, sin = math.cos(2 * math.pi / folds), math.sin(2 * math.pi / folds)
    whole: list[Fraction] = []
    for row, column in ((ONE, ZERO), (ZERO, ONE)):
        along, across = map(float, lattice.place(row, column))
        place = (Fraction(cos * along - sin * across), Fraction(sin * along + cos * across))
        for steps in lattice.steps(place):
            if abs(steps - round(steps)) > _OFF_LATTICE:
                return None
            whole.append(Fraction(round(steps)))
    rows, columns = (whole[0], whole[2]), (whole[1], whole[3])
    # In steps: B times the whole numbers times the inverse of B, with B = ((along, drop), (0, across)).
    length, drop, wide = lattice.along, lattice.drop, lattice.across
    steps_matrix: Matrix = (rows[0], rows[1], columns[0], columns[1])
    matrix = _times(
        _times((length, drop, ZERO, wide), steps_matrix), (1 / length, -drop / (length * wide), ZERO, 1 / wide)
    )
    return Operation(matrix)


def _keeps(lattice: Lattice, operation: Operation) -> bool:
    """Whether the operation takes motif points to motif points, but for its shift."""
    ahead = Operation(operation.matrix)
    steps = (lattice.steps(ahead(lattice.place(*one))) for one in ((ONE, ZERO), (ZERO, ONE)))
    return all(step.denominator == 1 for both in steps for step in both)


def _closed(generators: Sequence[Operation], lattice: Lattice) -> tuple[Operation, ...] | None:
    """All that these operations make together, up to the lattice; None where that is more than the lattice allows."""
    found = [Operation(_SAME)]
    for one in found:
        for generator in generators:
            new = generator.after(one)
            new = Operation(new.matrix, lattice.reduced(new.shift))
            if new.matrix == _SAME and new.shift != (ZERO, ZERO):
                return None
            if new not in found:
                found.append(new)
        if len(found) > MOST_OPERATIONS:
            return None
    return tuple(found)


def _times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d = one
    e, f, g, h = other
    return a * e + b * g, a * f + b * h, c * e + d * g, c * f + d * h
