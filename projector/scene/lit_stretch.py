"""Where along the table the whole cloth width is lit, and the plan for that stretch."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from jobs.job import Job
from jobs.plan import Plan
from jobs.planning import plan_job
from jobs.refusals import JobRefused, Problem

GRID = Fraction(1, 16)
"""The stretch is drawn in to whole sixteenths, so that positions stay readable on a tape."""


def lit_stretch(lit_area: Iterable[tuple[float, float]], width: Fraction) -> tuple[Fraction, Fraction] | None:
    """Least and greatest table x (inches) between which every y from 0 to ``width`` is lit.

    ``lit_area`` is the convex polygon (inches) that the projector can light. None when no such stretch exists.
    """
    corners = [(float(x), float(y)) for x, y in lit_area]
    spans = [_crossings(corners, y) for y in (0.0, float(width))]
    if None in spans:
        return None
    low = max(span[0] for span in spans if span)
    high = min(span[1] for span in spans if span)
    start, end = -((-Fraction(low)) // GRID) * GRID, Fraction(high) // GRID * GRID
    return (start, end) if start < end else None


def plan_on_table(job: Job, lit_area: Iterable[tuple[float, float]]) -> Plan:
    """The plan of a job whose stops lie inside what a calibrated projector lights.

    Raises JobRefused when the light does not reach over the whole width of the cloth anywhere.
    """
    stretch = lit_stretch(lit_area, job.cloth.width)
    if stretch is None:
        what = "the light does not reach across the whole width of the cloth, counted from the near edge of the table (y = 0)"
        raise JobRefused([Problem("table", what, "mount the projector higher, or calibrate with the origin nearer to you")])
    start, end = stretch
    plan = plan_job(job, end - start)
    # The planner puts the left end of the stretch at x = 0; here it lies at x = start.
    return replace(plan, stops=tuple(replace(stop, cloth_at_left=stop.cloth_at_left - start) for stop in plan.stops))


def _crossings(corners: list[tuple[float, float]], y: float) -> tuple[float, float] | None:
    """Where the horizontal line at ``y`` enters and leaves a convex polygon."""
    found = []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if y0 != y1 and min(y0, y1) <= y <= max(y0, y1):
            found.append(x0 + (y - y0) / (y1 - y0) * (x1 - x0))
        elif y0 == y1 == y:
            found += [x0, x1]
    return (min(found), max(found)) if found else None
