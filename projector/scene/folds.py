"""Fold lines: finished top, finished foot and side hems of the stop's cut."""

from __future__ import annotations

from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.sideways_lines import level_folds


def hemmed_sides(lit: LitStop) -> tuple[bool, bool]:
    """Whether the near and the far side of the cut are hemmed; the others are seamed to the next cut of the panel.

    Cuts of a panel are numbered from the leading edge.
    """
    cut = lit.placement.cut
    leading, returning = cut.number == 1, cut.number == cut.of
    return (leading, returning) if lit.leading_is_near else (returning, leading)


def side_folds(lit: LitStop) -> tuple[float, ...]:
    """Table y of the side folds: a side hem inside the printed edge, or inside what is trimmed or slit."""
    inset = float(lit.cloth.selvedge + lit.plan.job.allowances.side_hem)
    if lit.plan.job.allowances.side_hem <= 0:
        return ()
    cut = lit.placement.cut
    if cut.near_side is not None and cut.far_side is not None:
        return tuple(float(side.line) for side in (cut.near_side, cut.far_side) if not side.joined)
    near, far = hemmed_sides(lit)
    return ((inset,) if near else ()) + ((lit.width - inset,) if far else ())


def end_folds(lit: LitStop) -> tuple[float, ...]:
    """Table x of the finished top and the finished foot, where lit."""
    cut = lit.placement.cut
    top = lit.top_x - lit.towards_top * float(cut.heading)
    foot = lit.foot_x + lit.towards_top * float(cut.hem)
    folds = ((cut.heading, top), (cut.hem, foot))
    return tuple(x for allowance, x in folds if allowance > 0 and lit.light.left <= x <= lit.light.right)


def fold_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """All fold lines of the cut inside the lit stretch; of a sideways panel those of its doubled hems too."""
    if lit.is_sideways:
        return level_folds(lit)
    ends = tuple(Stroke(Kind.FOLD, ((x, lit.near), (x, lit.far))) for x in end_folds(lit))
    sides = tuple(Stroke(Kind.FOLD, ((lit.cut.left, y), (lit.cut.right, y))) for y in side_folds(lit))
    return ends + sides
