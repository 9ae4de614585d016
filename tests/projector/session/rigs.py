"""A calibrated table for tests: a tilted rig over 60 x 54 in, at any frame size."""

from __future__ import annotations

from calibration.table import Table, fit_table
from projector.simulated.rig import Rig, marks_of, rig_over

TABLE_IN = (60.0, 54.0)
PLACES = ((0.0, 0.0), (58.0, 0.0), (58.0, 50.0), (0.0, 50.0))


def rig_of(width_px: int, height_px: int) -> Rig:
    return rig_over(*TABLE_IN, tilt_deg=10, roll_deg=1.5, width_px=width_px, height_px=height_px)


def table_of(width_px: int, height_px: int) -> Table:
    return fit_table(marks_of(rig_of(width_px, height_px), PLACES), width_px, height_px)
