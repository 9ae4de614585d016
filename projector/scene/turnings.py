"""Where cloth is turned in a second time: the inner folds of doubled hems, and the line a stiffener is laid to."""

from __future__ import annotations

from jobs.model.choices import TurnedOver
from projector.scene.folds import side_folds
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.sideways_lines import level_stiffener


def inner_folds(lit: LitStop) -> tuple[Stroke, ...]:
    """The folds half a hem outside the finished foot and the finished sides, where the job has them turned twice."""
    if lit.is_sideways:
        return ()
    doubled, cut = lit.plan.job.doubled, lit.placement.cut
    marks: tuple[Stroke, ...] = ()
    if TurnedOver.HEM in doubled and cut.hem > 0:
        marks += _across(lit, Kind.FOLD, lit.foot_x + lit.towards_top * float(cut.hem / 2))
    if TurnedOver.SIDE_HEM in doubled:
        half = float(lit.plan.job.allowances.side_hem / 2)
        middle = (lit.near + lit.far) / 2
        lines = tuple(y - half if y < middle else y + half for y in side_folds(lit))
        marks += tuple(Stroke(Kind.FOLD, ((lit.cut.left, y), (lit.cut.right, y))) for y in lines)
    return marks


def stiffener_lines(lit: LitStop) -> tuple[Stroke, ...]:
    """The line below the cut edge of the heading to which the stiffener is laid, where the job has one."""
    if lit.is_sideways:
        return level_stiffener(lit)
    below = lit.plan.job.stiffener
    return () if below is None else _across(lit, Kind.STIFFENER, lit.top_x - lit.towards_top * float(below))


def _across(lit: LitStop, kind: Kind, x: float) -> tuple[Stroke, ...]:
    """A line across the cut at table x, where lit."""
    return (Stroke(kind, ((x, lit.near), (x, lit.far))),) if lit.light.left <= x <= lit.light.right else ()
