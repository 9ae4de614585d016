"""Prints made up at random with the symmetry of a plane group, as brightness at any place of the cloth.

Groups: International Tables for Crystallography, vol. A (general positions from memory). A print is a sum of random
waves of its lattice, averaged over the operations of its group, so it has these symmetries and no others. Places are
(along, across) in inches from a motif point.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from jobs.model.choices import Symmetry

Array = NDArray[np.float64]
NONE, MIRROR, GLIDE = Symmetry.NONE, Symmetry.MIRROR, Symmetry.GLIDE
WAVES = 2


@dataclass(frozen=True)
class Step:
    """A symmetry: place -> matrix @ place + shift."""

    matrix: tuple[float, float, float, float]
    shift: tuple[float, float] = (0.0, 0.0)

    def then(self, other: Step) -> Step:
        """This one first, the other after it."""
        a, b = np.reshape(self.matrix, (2, 2)), np.reshape(other.matrix, (2, 2))
        shift = b @ np.array(self.shift) + np.array(other.shift)
        return Step(tuple(np.ravel(b @ a)), tuple(shift))  # type: ignore[arg-type]


@dataclass(frozen=True)
class Lattice:
    """Repeat along, distance of columns across, drop of the next column as a share of the repeat."""

    along: float
    across: float
    drop: float

    def cell_shares(self, place: Array) -> Array:
        """Places (..., 2) as shares of the two steps of the lattice."""
        columns = place[..., 1] / self.across
        return np.stack([place[..., 0] / self.along - columns * self.drop, columns], -1)


def turn(degrees: float) -> Step:
    """A turn about the motif point."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Step((cos, -sin, sin, cos))


def top_to_bottom(offset: float, slide: float = 0.0) -> Step:
    """A mirror line across the cloth ``offset`` along, with a slide across."""
    return Step((-1.0, 0.0, 0.0, 1.0), (2 * offset, slide))


def side_to_side(offset: float, slide: float = 0.0) -> Step:
    """A mirror line along the cloth ``offset`` across, with a slide along."""
    return Step((1.0, 0.0, 0.0, -1.0), (slide, 2 * offset))


class Tiling:
    """A print on a lattice, symmetric under the group that its steps generate."""

    def __init__(self, lattice: Lattice, steps: list[Step], seed: int = 7) -> None:
        self.lattice = lattice
        self.operations = self._closed(steps)
        chance = np.random.default_rng(seed)
        index = np.array([(i, j) for i in range(-WAVES, WAVES + 1) for j in range(-WAVES, WAVES + 1)])
        self._index = index.astype(float)
        self._size = chance.normal(size=len(index))
        self._begin = chance.uniform(0, 2 * math.pi, len(index))

    def _closed(self, steps: list[Step]) -> list[Step]:
        found = [Step((1.0, 0.0, 0.0, 1.0))]
        todo = list(found)
        while todo:
            one = todo.pop()
            for step in steps:
                new = one.then(step)
                if not any(self._alike(new, old) for old in found):
                    found.append(new)
                    todo.append(new)
                    assert len(found) <= 12, "no plane group has more than twelve operations up to its lattice"
        return found

    def _alike(self, one: Step, other: Step) -> bool:
        apart = self.lattice.cell_shares(np.array(one.shift) - np.array(other.shift))
        return bool(np.allclose(one.matrix, other.matrix) and np.allclose(apart, np.round(apart), atol=1e-6))

    def at(self, place: Array) -> Array:
        """Brightness (...) at places (..., 2)."""
        total = np.zeros(place.shape[:-1])
        for one in self.operations:
            moved = place @ np.reshape(one.matrix, (2, 2)).T + np.array(one.shift)
            waves = np.cos(2 * math.pi * self.lattice.cell_shares(moved) @ self._index.T + self._begin)
            total += waves @ self._size
        return total / len(self.operations)

    def cell(self, columns: int, pixels: int = 48) -> Array:
        """Pixels (pixels, pixels) of the rectangle one repeat long and ``columns`` columns wide."""
        share = np.arange(pixels) / pixels
        along, across = np.meshgrid(share * self.lattice.along, share * columns * self.lattice.across, indexing="ij")
        return self.at(np.stack([along, across], -1))


@dataclass(frozen=True)
class Setting:
    """A group as it lies on the cloth, and what is measured on it for a job file."""

    group: str
    top_to_bottom: Symmetry
    side_to_side: Symmetry
    half_turn: bool
    lattice: Lattice
    steps: tuple[Step, ...]
    mirror_offset: Fraction = Fraction(0)
    mirror_offset_across: Fraction = Fraction(0)

    @property
    def name(self) -> str:
        return f"{self.group}: top to bottom {self.top_to_bottom}, side to side {self.side_to_side}"


def settings() -> list[Setting]:
    """All 17 groups, each in every setting that has its mirror lines along or across the cloth."""
    return [*_rectangular(), *_square(), *_hexagonal(True), *_hexagonal(False)]


def _rectangular() -> list[Setting]:
    straight, dropped = Lattice(12.0, 9.0, 0.0), Lattice(12.0, 9.0, 0.5)
    half = turn(180)
    down, down_slid = top_to_bottom(1.5), top_to_bottom(1.5, 4.5)
    side, side_slid = side_to_side(1.5), side_to_side(1.5, 6.0)
    m, o = Fraction(3, 2), Fraction(3, 2)
    return [
        Setting("p1", NONE, NONE, False, straight, ()),
        Setting("p1", NONE, NONE, False, Lattice(12.0, 9.0, 1 / 3), ()),
        Setting("p2", NONE, NONE, True, straight, (half,)),
        Setting("p2", NONE, NONE, True, dropped, (half,)),
        Setting("pm", MIRROR, NONE, False, straight, (down,), m),
        Setting("pm", NONE, MIRROR, False, straight, (side,), Fraction(0), o),
        Setting("pg", GLIDE, NONE, False, straight, (down_slid,), m),
        Setting("pg", NONE, GLIDE, False, straight, (side_slid,), Fraction(0), o),
        Setting("cm", MIRROR, NONE, False, dropped, (down,), m),
        Setting("cm", NONE, MIRROR, False, dropped, (side,), Fraction(0), o),
        Setting("pmm", MIRROR, MIRROR, True, straight, (down, side), m, o),
        Setting("cmm", MIRROR, MIRROR, True, dropped, (down, side), m, o),
        Setting("pmg", MIRROR, GLIDE, True, straight, (down, side_slid), m, o),
        Setting("pmg", GLIDE, MIRROR, True, straight, (down_slid, side), m, o),
        Setting("pgg", GLIDE, GLIDE, True, straight, (down_slid, side_slid), m, o),
    ]


def _square() -> list[Setting]:
    square, quarter = Lattice(12.0, 12.0, 0.0), turn(90)
    return [
        Setting("p4", NONE, NONE, True, square, (quarter,)),
        Setting("p4m", MIRROR, MIRROR, True, square, (quarter, top_to_bottom(0))),
        Setting(
            "p4g", GLIDE, GLIDE, True, square, (quarter, top_to_bottom(3, 6), side_to_side(3, 6)),
            Fraction(3), Fraction(3),
        ),
    ]  # fmt: skip


def _hexagonal(row_along: bool) -> list[Setting]:
    """A shortest step of the lattice lies along the cloth, or across it."""
    # Along: columns 12 x sqrt(3)/2 apart, half-drop. Across: columns 6 apart, repeat 12 x sqrt(3), half-drop.
    lattice = Lattice(12.0, 6 * math.sqrt(3), 0.5) if row_along else Lattice(12 * math.sqrt(3), 6.0, 0.5)
    third, sixth, down, side = turn(120), turn(60), top_to_bottom(0), side_to_side(0)
    # p3m1 has its mirror lines square to the shortest steps of the lattice, p31m along them.
    m1, one_m = (down, side) if row_along else (side, down)

    def of(group: str, step: Step) -> Setting:
        is_down = step is down
        return Setting(group, MIRROR if is_down else NONE, NONE if is_down else MIRROR, False, lattice, (third, step))

    return [
        Setting("p3", NONE, NONE, False, lattice, (third,)),
        of("p3m1", m1),
        of("p31m", one_m),
        Setting("p6", NONE, NONE, True, lattice, (sixth,)),
        Setting("p6m", MIRROR, MIRROR, True, lattice, (sixth, down)),
    ]
