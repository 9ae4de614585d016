"""The demo of a job: a projector hung slantwise over its table, calibrated, and its cloth laid for each stop."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from calibration.marks import Placing
from calibration.table import Table, fit_table
from jobs.model.job import Job
from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from jobs.planning.planner import plan_job
from projector.demo.cloth import AsItLies, LaidCloth
from projector.demo.virtual_projector import Hung, VirtualProjector, marks_of, project, projector_over
from projector.prints.face import face_of

Array = NDArray[np.float64]

EXACT = Placing(1 / 1000, 1 / 100)
"""Marks of the demo lie where they are said to; a calibration of them is not to be doubted."""
EACH_WAY = 3
"""Marks of the demo along and across its table: four corners alone would leave every cut line in doubt of the lens."""
MARGIN_IN = 4.0
"""Bare table beyond the selvedges and beyond the marks at each end."""


@dataclass(frozen=True)
class DemoSetup:
    """A virtual projector over a table of ``table_in`` (length, width) and what was fitted to marks on it."""

    projector: VirtualProjector
    table: Table
    table_in: tuple[float, float]


@dataclass(frozen=True)
class AsCalibrated:
    """A projector for which a calibration is the whole truth."""

    table: Table

    @property
    def matrix(self) -> Array:
        return self.table.matrix * self.table.side

    @property
    def width_px(self) -> int:
        return self.table.width_px

    @property
    def height_px(self) -> int:
        return self.table.height_px

    @property
    def gamma(self) -> float:
        return self.table.gamma

    def to_frame(self, points_in: Array) -> Array:
        ideal = project(self.matrix, points_in)
        if self.table.lens is None:
            return ideal
        within = self.table.lens.reaches(ideal)
        pixels = np.full_like(ideal, -1.0)
        pixels[within] = self.table.lens.apply(ideal[within])
        return pixels


def cloth_at(plan: Plan, stop: Stop, lies: AsItLies | None = None) -> LaidCloth:
    """The cloth of the plan as it lies at a stop; exactly as planned when nothing else is said."""
    cloth, piece = plan.job.cloth, plan.pieces[stop.placement.piece - 1].piece
    face = face_of(cloth)
    laid = LaidCloth(
        length=float(piece.length),
        width=float(cloth.width),
        along=face.along,
        across=face.across,
        selvedge=float(cloth.near_selvedge),
        far_selvedge=float(cloth.far_selvedge),
        first_row=float(piece.first_row),
        at_left=float(stop.cloth_at_left),
        column=face.column,
        drop=face.drop / face.along if face.along else 0.0,
        face=face,
    )
    if lies is None:
        return laid
    return replace(
        laid,
        shift=lies.shift,
        turn_deg=lies.turn_deg,
        stretch_along=lies.stretch_along,
        skew=lies.skew * laid.width,
        bow=lies.bow * laid.width,
    )


def demo_setup(job: Job, width_px: int = 1920, height_px: int = 1080, *, date: str = "") -> DemoSetup:
    """A projector hung slantwise above the job's table, its marks placed exactly, so many that the lens is known."""
    table_in = table_size(job)
    projector = projector_over(
        *table_in, Hung(tilt_deg=14.0, towards_deg=65.0, roll_deg=1.5), size_px=(width_px, height_px)
    )
    length, width = table_in
    places = [
        (length * x / (EACH_WAY - 1), width * y / (EACH_WAY - 1)) for y in range(EACH_WAY) for x in range(EACH_WAY)
    ]
    fitted = fit_table(marks_of(projector, places), width_px, height_px, EXACT)
    table = replace(fitted, gamma=projector.gamma, date=date)
    return DemoSetup(projector, table, table_in)


def table_size(job: Job) -> tuple[float, float]:
    """Length and width in inches of the job's table; long enough for its longest cut when the job names none."""
    if job.table:
        return float(job.table.length), max(float(job.table.width), float(job.cloth.width))
    longest = max((placed.cut.length for placed in plan_job(job).placements), default=job.cloth.width)
    return float(longest) + 2 * MARGIN_IN, float(job.cloth.width) + MARGIN_IN
