"""Where along the table the whole cloth width is lit, and the plan for that stretch."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction

from jobs.model.job import CuttingTable, Job
from jobs.model.plan import Plan
from jobs.model.problems import Code, JobRefused, problem
from jobs.planning.planner import Progress, plan_job

Stretch = tuple[Fraction, Fraction]

SHARES = tuple(Fraction(tenths, 10) for tenths in range(10, 4, -1))
LEAST = Fraction(12)
"""A stretch shorter than this (inches) is not worth a stop."""

GRID = Fraction(1, 16)
"""The stretch is drawn in to whole sixteenths, so that positions stay readable on a tape."""


def lit_stretch(lit_area: Iterable[tuple[float, float]], width: Fraction) -> Stretch | None:
    """Least and greatest table x (inches) between which every y from 0 to ``width`` is lit.

    ``lit_area`` is the convex polygon (inches) that the projector can light. None when no such stretch exists.
    """
    # A light whose edge lies on y = 0 may come out beside it by rounding.
    corners = [(round(float(x), 9), round(float(y), 9)) for x, y in lit_area]
    spans = [_crossings(corners, y) for y in (0.0, float(width))]
    if None in spans:
        return None
    low = max(span[0] for span in spans if span)
    high = min(span[1] for span in spans if span)
    start, end = -((-Fraction(low)) // GRID) * GRID, Fraction(high) // GRID * GRID
    return (start, end) if start < end else None


def plan_on_table(
    job: Job, lit_area: Iterable[tuple[float, float]], *, progress: Callable[[Progress], None] | None = None
) -> Plan:
    """The plan of a job whose stops lie inside what a calibrated projector lights. Raises as ``lit_job``."""
    lit, stretch = lit_job(job, lit_area)
    return lit_from(plan_job(lit, stretch[1] - stretch[0], progress=progress), stretch)


def lit_job(job: Job, lit_area: Iterable[tuple[float, float]]) -> tuple[Job, Stretch]:
    """The job, and from where to where along the table its stops are lit.

    Where the light does not reach across the whole cloth, it is as much of its width as it does reach, and a notice in
    the job says so. Raises JobRefused when it reaches less than half.
    """
    found = _best(job, tuple(lit_area))
    if found is None:
        raise JobRefused([problem(("table",), Code.LIGHT_TOO_NARROW)])
    share, stretch = found
    return (job if share == 1 else _with_notice(job, share)), stretch


def lit_from(plan: Plan, stretch: Stretch) -> Plan:
    """A plan for a table as long as the stretch, with its stops where that lies.

    The planner puts the left end of the stretch at x = 0; here it lies at its own x.
    """
    stops = (replace(stop, cloth_at_left=stop.cloth_at_left - stretch[0]) for stop in plan.stops)
    return replace(plan, stops=tuple(stops))


def between_marks(job: Job, marks_in: Iterable[tuple[float, float]]) -> Job:
    """The job with a table as long as its marks (table inches) reach, said in a notice, when it names none.

    Light falls beside a table too: without this the top of a cut could be lit on thin air. Left as it is where marks
    lie left of the origin or hardly beside it, for then they do not tell where the table ends.
    """
    places = [(float(x), float(y)) for x, y in marks_in]
    length = Fraction(max((x for x, _ in places), default=0.0)) // GRID * GRID
    if job.table is not None or length < LEAST or min(x for x, _ in places) < -float(LEAST):
        return job
    width = Fraction(max(y for _, y in places)) // GRID * GRID
    notice = problem(("table",), Code.TABLE_ENDS_AT_MARK, length=length)
    table = CuttingTable(length, max(width, job.cloth.width))
    return replace(job, table=table, notices=(*job.notices, notice))


def reach_across(job: Job, lit_area: Iterable[tuple[float, float]]) -> float | None:
    """How far across the cloth the light reaches, in inches; None when it reaches the whole width."""
    found = _best(job, tuple(lit_area))
    return None if found is None or found[0] == 1 else float(job.cloth.width * found[0])


def _best(job: Job, corners: tuple[tuple[float, float], ...]) -> tuple[Fraction, Stretch] | None:
    """The largest share of the cloth width that is lit over a worthwhile stretch, and that stretch."""
    for share in SHARES:
        stretch = _on_table(job, lit_stretch(corners, job.cloth.width * share))
        if stretch is not None and stretch[1] - stretch[0] >= LEAST:
            return share, stretch
    return None


def _on_table(job: Job, stretch: Stretch | None) -> Stretch | None:
    """The part of a lit stretch that lies on the job's table, when the job names one: light falls beside it too."""
    if stretch is None or job.table is None:
        return stretch
    start, end = max(Fraction(0), stretch[0]), min(job.table.length, stretch[1])
    return (start, end) if start < end else None


def _with_notice(job: Job, share: Fraction) -> Job:
    notice = problem(("table",), Code.LIGHT_REACHES, length=job.cloth.width * share)
    return replace(job, notices=(*job.notices, notice))


def _crossings(corners: list[tuple[float, float]], y: float) -> tuple[float, float] | None:
    """Where the horizontal line at ``y`` enters and leaves a convex polygon."""
    found = []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if y0 != y1 and min(y0, y1) <= y <= max(y0, y1):
            found.append(x0 + (y - y0) / (y1 - y0) * (x1 - x0))
        elif y0 == y1 == y:
            found += [x0, x1]
    return (min(found), max(found)) if found else None
