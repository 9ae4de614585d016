"""A plain motif that has just the symmetry a job says its print has, so that its way can be seen when it hangs.

A mirror line that does not go through the motif, or one with a slide, makes a second motif in every repeat: the image.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from jobs.job import Cloth, Run, Symmetry

Point = tuple[float, float]

ZERO = Fraction(0)

Shape = tuple[Point, ...]

# Polygons about (0, 0), x to the right and y up with the motif's top up, within half a unit each way.
_MINNOW: tuple[Shape, ...] = (
    ((0.5, 0.0), (0.46, 0.07), (0.34, 0.14), (0.16, 0.18), (-0.02, 0.15), (-0.18, 0.08), (-0.28, 0.03), (-0.36, 0.1),
     (-0.5, 0.2), (-0.45, 0.08), (-0.43, 0.0), (-0.45, -0.08), (-0.5, -0.2), (-0.36, -0.1), (-0.28, -0.03),
     (-0.18, -0.08), (-0.02, -0.15), (0.16, -0.18), (0.34, -0.14), (0.46, -0.07)),
    ((0.2, 0.17), (0.1, 0.24), (0.03, 0.25), (0.05, 0.2), (0.07, 0.165)),
    ((0.2, -0.17), (0.1, -0.24), (0.03, -0.25), (0.05, -0.2), (0.07, -0.165)),
)  # fmt: skip
_POPPY: tuple[Shape, ...] = (
    ((-0.04, -0.5), (0.04, -0.5), (0.04, 0.0), (-0.04, 0.0)),
    ((0.0, -0.02), (0.22, 0.08), (0.3, 0.34), (0.14, 0.26), (0.0, 0.48), (-0.14, 0.26), (-0.3, 0.34), (-0.22, 0.08)),
    ((0.06, -0.36), (0.3, -0.2), (0.32, -0.1), (0.06, -0.26)),
    ((-0.06, -0.36), (-0.3, -0.2), (-0.32, -0.1), (-0.06, -0.26)),
)
_STAR: tuple[Shape, ...] = (
    ((0.42, 0.0), (0.1, 0.1), (0.0, 0.42), (-0.1, 0.1), (-0.42, 0.0), (-0.1, -0.1), (0.0, -0.42), (0.1, -0.1)),
)
_SWIRL: tuple[Shape, ...] = (
    ((0.0, 0.06), (0.2, 0.4), (0.42, 0.34), (0.46, 0.1), (0.34, 0.2), (0.26, 0.2), (0.06, -0.06)),
    ((0.0, -0.06), (-0.2, -0.4), (-0.42, -0.34), (-0.46, -0.1), (-0.34, -0.2), (-0.26, -0.2), (-0.06, 0.06)),
)
_BOAT: tuple[Shape, ...] = (
    ((-0.44, -0.16), (0.44, -0.16), (0.26, -0.38), (-0.34, -0.38)),
    ((-0.06, -0.1), (-0.06, 0.46), (0.36, -0.1)),
    ((-0.12, -0.1), (-0.12, 0.24), (-0.34, -0.1)),
)


@dataclass(frozen=True)
class Image:
    """A motif of the print: how far along and across from the motif point, and which way it looks (+1 as printed)."""

    along: Fraction
    across: Fraction
    right: int
    up: int


def images_of(cloth: Cloth) -> tuple[Image, ...]:
    """The motifs that one motif point brings with it, itself first, each place once."""
    found: list[Image] = []
    for image in _orbit(cloth):
        if not any(_at_one_place(image, other, cloth) for other in found):
            found.append(image)
    return tuple(found)


def motif_of(cloth: Cloth) -> tuple[Shape, ...]:
    """Polygons of a motif as it hangs, with the mirrors and half-turns of the print that go through its motif point."""
    first, *others = _orbit(cloth)
    held = {(image.right, image.up) for image in others if _at_one_place(image, first, cloth)}
    top, side = (1, -1) in held, (-1, 1) in held
    if cloth.run is Run.SIDEWAYS:
        # What mirrors along the cloth hangs mirrored from top to bottom.
        top, side = side, top
    if top and side:
        return _STAR
    if top:
        return _MINNOW
    if side:
        return _POPPY
    lines = {cloth.print.top_to_bottom, cloth.print.side_to_side}
    return _SWIRL if (-1, -1) in held or (cloth.print.half_turn and lines == {Symmetry.NONE}) else _BOAT


def _orbit(cloth: Cloth) -> Iterator[Image]:
    """The motif point itself and its images by the mirror lines of the print, with their slides, and by both."""
    yield Image(ZERO, ZERO, 1, 1)
    if cloth.repeat is None:
        return
    sheet, across = cloth.print, cloth.repeat.across or ZERO
    slide_across = across / 2 if sheet.top_to_bottom is Symmetry.GLIDE else ZERO
    slide_along = cloth.repeat.along / 2 if sheet.side_to_side is Symmetry.GLIDE else ZERO
    down, side = 2 * sheet.mirror_offset, 2 * (sheet.mirror_offset_across or ZERO)
    if sheet.top_to_bottom is not Symmetry.NONE:
        yield Image(down, slide_across, 1, -1)
    if sheet.side_to_side is not Symmetry.NONE:
        yield Image(slide_along, side, -1, 1)
    if Symmetry.NONE not in (sheet.top_to_bottom, sheet.side_to_side):
        yield Image(down - slide_along, side + slide_across, -1, -1)


def _at_one_place(one: Image, other: Image, cloth: Cloth) -> bool:
    """Whether two motifs lie a step of the lattice apart, so that in the print they stand in each other's place."""
    along, across = one.along - other.along, one.across - other.across
    if cloth.repeat is None or not cloth.repeat.across:
        return across == 0 and (cloth.repeat is None or along % cloth.repeat.along == 0)
    columns = across / cloth.repeat.across
    return columns.denominator == 1 and (along - columns * cloth.drop * cloth.repeat.along) % cloth.repeat.along == 0
