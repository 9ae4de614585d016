"""Cuts laid on one piece, in inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.job import Cloth, Piece
from jobs.layout.assigning import assigned
from jobs.layout.one_piece.shortest import shortest
from jobs.layout.placing import Grains, Shape, Strip, merged_flaws, start_after_row, starts_in_order
from jobs.plan import Cut, Placement


@dataclass(frozen=True)
class Laid:
    """Placements in order along the piece, where the last one ends, what no order can beat; all from the first end."""

    placements: tuple[Placement, ...]
    used: Fraction
    bound: Fraction
    proved_shortest: bool


def grains_of(cuts: Sequence[Cut], cloth: Cloth, others: Sequence[Fraction] = ()) -> Grains:
    """Grains that measure the repeat, every cut, every place in the repeat and the other lengths given."""
    repeat = [cloth.repeat.along] if cloth.repeat else []
    return Grains.fitting([*repeat, *others, *(cut.length for cut in cuts), *(start_after_row(c, cloth) for c in cuts)])


def shapes_of(cuts: Sequence[Cut], cloth: Cloth, grains: Grains) -> list[Shape]:
    """One shape for each cut, in their order."""
    return [Shape(grains.count(cut.length), grains.count(start_after_row(cut, cloth))) for cut in cuts]


def lay(cuts: Sequence[Cut], cloth: Cloth, piece: Piece, squaring: Fraction) -> Laid:
    """The shortest layout found on one piece, going on past its end, unflawed, where the cuts need more.

    A flaw counts over the full width of the cloth.
    """
    flaws = merged_flaws(piece.flaws)
    edges = [edge for flaw in flaws for edge in flaw]
    grains = grains_of(cuts, cloth, [squaring, piece.first_row, *edges])
    strip = Strip(
        repeat=grains.count(cloth.repeat.along) if cloth.repeat else 0,
        first_row=grains.count(piece.first_row),
        begin=grains.count(squaring),
        flaws=tuple((grains.count(start), grains.count(end)) for start, end in flaws),
    )
    shapes = shapes_of(cuts, cloth, grains)
    found = shortest(strip, shapes)
    starts = starts_in_order(strip, found.order)
    named = assigned(found.order, cuts, shapes)
    return Laid(
        placements=tuple(Placement(cut, 1, grains.inches(at)) for cut, at in zip(named, starts, strict=True)),
        used=grains.inches(found.end),
        bound=grains.inches(found.bound),
        proved_shortest=found.proved,
    )
