"""A session at a real stop, for benchmarks."""

from __future__ import annotations

from pathlib import Path

from calibration.table import Table, fit_table
from jobs.reading.job_file import read_job
from projector.scene.lit_stretch import plan_on_table
from projector.session.cutting_host import Cutting
from projector.session.lighting import bench_of
from projector.simulated.rig import marks_of, rig_over

JOB = Path(__file__).parents[2] / "jobs" / "examples" / "reading_room.yaml"


def table_of(width_px: int, height_px: int) -> Table:
    """A table of 96 x 54 in under a tilted projector."""
    rig = rig_over(96.0, 54.0, tilt_deg=8, roll_deg=1, width_px=width_px, height_px=height_px)
    places = ((0.0, 0.0), (94.0, 0.0), (94.0, 52.0), (0.0, 52.0))
    return fit_table(marks_of(rig, places), width_px, height_px)


def at_a_stop(table: Table, job: Path = JOB) -> Cutting:
    """A session at its first stop, cautions read."""
    plan = plan_on_table(read_job(job), table.lit_area())
    cutting = Cutting(bench_of(plan, table), table, lambda event: None)
    cutting.key("Space", 10.0)
    return cutting
