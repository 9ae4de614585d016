"""What the bench screen says of the light: age of the calibration, how far off a cut may be, laid or not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from calibration.table import Table
from jobs.model.plan import Plan, Stop
from projector.scene.marks import Kind, Stroke
from projector.scene.stop_scene import Layers, scene_of_stop
from projector.session.lighting.doubt import doubt_of
from projector.session.saying.notices import OLD_DAYS, age_days
from projector.words.measures import format_error

ONLY_CUTS = Layers(rows=False, match=False, trims=False, folds=False, letters=False, pins=False)


@dataclass(frozen=True)
class Check:
    """One thing to know, in a few words; ``good`` is false where it should give pause."""

    name: str
    said: str
    good: bool


def checks_of(
    plan: Plan, stop: Stop, table: Table, today: date, *, laid: bool | None, lit_width_in: float | None = None
) -> tuple[Check, ...]:
    """The checks for a stop. ``laid``: whether the light follows the print as it lies (None: there is no print)."""
    unit = plan.job.unit.value
    tolerance = float(plan.job.tolerance)
    worst = worst_error_in(plan, stop, table, lit_width_in)
    found = [_age(table.date, today)]
    if worst is None:
        found.append(Check("Cut lines", "none is lit here", True))
    else:
        found.append(Check("Cut lines", f"within {format_error(worst, unit)}", worst <= tolerance))
    if laid is not None:
        found.append(
            Check("Cloth", "laid by its print" if laid else "not laid by its print: lay it, by motif points", laid)
        )
    return tuple(found)


def worst_error_in(plan: Plan, stop: Stop, table: Table, lit_width_in: float | None = None) -> float | None:
    """How far off any lit cut line of a stop may be by the calibration, in inches; None where none is lit."""
    scene = scene_of_stop(plan, stop, lit_width_in=lit_width_in, layers=ONLY_CUTS)
    doubt = doubt_of(table, float(plan.job.tolerance), plan.job.unit.value)
    lines = [mark.points for mark in scene.of(Kind.CUT) if isinstance(mark, Stroke)]
    return max((doubt.error_of(points[0], points[-1]) for points in lines), default=None)


def _age(made: str, today: date) -> Check:
    days = age_days(made, today)
    if days is None or days < 0:
        return Check("Calibration", "of no known day", False)
    said = {0: "of today", 1: "of yesterday"}.get(days, f"{days} days old")
    return Check("Calibration", said, days <= OLD_DAYS)
