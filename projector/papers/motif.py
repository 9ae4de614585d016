"""A plain motif that has just the symmetry a job says its print has, so that its way can be seen when it hangs."""

from __future__ import annotations

from jobs.job import Print, Symmetry
from projector.papers.drawing import Point

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


def motif_of(pattern: Print) -> tuple[Shape, ...]:
    """Polygons of a motif with the print's mirrors and half-turn, and no others."""
    top, side = (m is Symmetry.MIRROR for m in (pattern.top_to_bottom, pattern.side_to_side))
    if top and side:
        return _STAR
    if top:
        return _MINNOW
    if side:
        return _POPPY
    return _SWIRL if pattern.half_turn else _BOAT
