"""A session at a real stop, for benchmarks."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from calibration.table import Table, fit_table
from jobs.io.reader import read_job
from jobs.model.job import Job
from jobs.model.print import Repeat
from jobs.model.window import RowRule
from projector.demo.virtual_projector import Hung, marks_of, projector_over
from projector.scene.lit_stretch import plan_on_table
from projector.session.cutting.begin import begin
from projector.session.cutting.journal import not_kept
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from projector.session.cutting.state import setup_of
from tests.projector.session.sessions import key

EXAMPLES = Path(__file__).parents[2] / "jobs" / "examples"
JOB = EXAMPLES / "reading_room.yaml"


def table_of(width_px: int, height_px: int) -> Table:
    """A table of 96 x 54 in under a tilted projector."""
    projector = projector_over(96.0, 54.0, Hung(tilt_deg=8, roll_deg=1), size_px=(width_px, height_px))
    places = ((0.0, 0.0), (94.0, 0.0), (94.0, 52.0), (0.0, 52.0))
    return fit_table(marks_of(projector, places), width_px, height_px)


def dense_job(repeat_in: Fraction) -> Job:
    """The same job in a cloth whose print repeats every few inches both ways: hundreds of pluses at a stop."""
    job = read_job(JOB)
    repeat = Repeat(repeat_in, repeat_in)
    pieces = tuple(replace(piece, first_row=Fraction(1)) for piece in job.cloth.pieces)
    windows = tuple(replace(window, row=RowRule(below_top=Fraction(2))) for window in job.windows)
    return replace(job, cloth=replace(job.cloth, repeat=repeat, pieces=pieces), windows=windows)


def at_a_stop(table: Table, job: Job | None = None) -> Cutting:
    """A session at its first stop, cautions read; of an example that comes with the program unless told."""
    plan = plan_on_table(job or read_job(JOB), table.lit_area())
    cutting = Cutting(begin(setup_of(plan, table)), not_kept)
    key(cutting, "Space", 10.0)
    return cutting


def registered(cutting: Cutting) -> Cutting:
    """The same once its motif points were marked, each a little beside where it was expected."""
    key(cutting, "L", 10.0)
    for _ in range(12):
        if cutting.state.page is Page.MARKING:
            key(cutting, "Right", 10.0)
            key(cutting, "Enter", 10.0)
    key(cutting, "Enter", 10.0)
    if cutting.state.fit is None or cutting.state.page is not Page.STOP:
        raise RuntimeError(f"not registered: {cutting.state.page}")
    return cutting
