"""The stand-in for a print that nobody photographed: a seed with one leaf, put through the symmetry the job states.

The leaf grows up from the seed, which is the motif point, and curls to the right, so that a motif turned or mirrored
looks so. Leaves that a mirror or a turn brings to one seed grow out of it together.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from jobs.model.choices import End, Run
from jobs.model.cloth import Cloth
from jobs.model.records import dataclass
from projector.prints.symmetry import ZERO, Lattice, Operation, Place, operations_of

Point = tuple[float, float]

HALF = Fraction(1, 2)

_REACH = 0.94
"""Of half the way to the next motif that a leaf may reach."""
_LEAST = 0.42
"""Of half a step of the lattice that a leaf reaches all the same where images crowd; they overlap then."""


@dataclass(frozen=True)
class Shape:
    """A filled polygon of the print: (along, across) in inches from a motif point."""

    colour: str
    points: tuple[Point, ...]


def _leaf(together: int) -> tuple[Point, ...]:
    """A curled leaf within one unit of (0, 0), x to the right and y up; slimmer where many grow from one seed."""
    left, right = [], []
    steps = 12
    widest = 0.2 * min(1.0, (3 / together) ** 0.6)
    for step in range(steps + 1):
        share = step / steps
        reach = 0.2 + 0.8 * share
        angle = math.radians(100 - 54 * share**1.4)
        wide = widest * math.sin(math.pi * share**0.8) ** 0.9 if 0 < step < steps else 0.0
        x, y = reach * math.cos(angle), reach * math.sin(angle)
        heading = angle - math.radians(45 * share)
        across = (math.sin(heading) * wide, -math.cos(heading) * wide)
        left.append((x - across[0], y - across[1]))
        right.append((x + across[0], y + across[1]))
    return (*left, *reversed(right[1:-1]))


# 24 corners: as many as make it the same after every turn and mirror of a plane group.
_SEED = tuple((0.13 * math.cos(math.pi * n / 12), 0.13 * math.sin(math.pi * n / 12)) for n in range(24))


def shapes_of(cloth: Cloth, lattice: Lattice) -> tuple[Shape, ...]:
    """All shapes of one repeat, each colour's together, lower ones first. Raises ValueError for plain cloth."""
    operations = operations_of(cloth, lattice)
    centres = sorted({operation.shift for operation in _within(operations, lattice)})
    unit = _unit(centres, lattice)
    drawn = _leaf(len(operations) // len(centres))
    leaf_ink, seed_ink = inks_of(cloth)
    leaf = [(unit * along, unit * across) for along, across in (_as_it_lies(cloth, point) for point in drawn)]
    seed = [(unit * along, unit * across) for along, across in _SEED]
    leaves = (tuple(_moved(point, operation) for point in leaf) for operation in _within(operations, lattice))
    seeds = (tuple((a + float(at[0]), c + float(at[1])) for a, c in seed) for at in centres)
    return (*(Shape(leaf_ink, points) for points in leaves), *(Shape(seed_ink, points) for points in seeds))


def inks_of(cloth: Cloth) -> tuple[str, str]:
    """Colours of leaf and seed: the cloth's own motif colours, or dark or pale where it names none that is seen."""
    seen = [ink for ink in cloth.motif_colours if _unlike(ink, cloth.colour)]
    if not seen:
        red, green, blue = _levels(cloth.colour)
        seen = ["#2b3440" if 0.299 * red + 0.587 * green + 0.114 * blue > 0.5 else "#efe9dc"]
    return seen[0], seen[min(1, len(seen) - 1)]


def _unlike(one: str, other: str) -> bool:
    return max(abs(a - b) for a, b in zip(_levels(one), _levels(other), strict=True)) > 0.12


def _levels(colour: str) -> tuple[float, float, float]:
    red, green, blue = bytes.fromhex(colour.removeprefix("#"))
    return red / 255, green / 255, blue / 255


def _as_it_lies(cloth: Cloth, point: Point) -> Point:
    """Along and across of a point to the right and up: tops lie towards the first end, or as the job says; on cloth
    run sideways towards the far selvedge, the first end at their left."""
    right, up = point
    if cloth.run is Run.SIDEWAYS:
        return right, up
    return (-up, right) if cloth.print.top_towards is End.FIRST else (up, -right)


def _within(operations: tuple[Operation, ...], lattice: Lattice) -> Iterator[Operation]:
    """The operations with their motifs in the cell about the motif point."""
    for operation in operations:
        rows, columns = lattice.steps(operation.shift)
        near = lattice.place((rows + HALF) % 1 - HALF, (columns + HALF) % 1 - HALF)
        yield Operation(operation.matrix, near)


def _unit(centres: list[Place], lattice: Lattice) -> float:
    """How far a leaf reaches, inches: half the way to the next motif."""
    own = (ZERO, ZERO)
    steps = [lattice.place(Fraction(i), Fraction(j)) for i in range(-2, 3) for j in range(-2, 3)]
    step = min(math.hypot(*map(float, one)) for one in steps if one != own)
    between = [(at[0] - centres[0][0] + one[0], at[1] - centres[0][1] + one[1]) for at in centres for one in steps]
    nearest = min(math.hypot(*map(float, one)) for one in between if one != own)
    return max(_REACH * nearest, _LEAST * step) / 2


def _moved(point: Point, operation: Operation) -> Point:
    a, b, c, d = map(float, operation.matrix)
    along, across = map(float, operation.shift)
    return a * point[0] + b * point[1] + along, c * point[0] + d * point[1] + across
