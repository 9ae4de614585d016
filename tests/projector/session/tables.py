"""A calibrated table for tests: a tilted projector over 60 x 54 in, at any frame size."""

from __future__ import annotations

from calibration.table import Table, fit_table
from projector.demo.virtual_projector import Hung, VirtualProjector, marks_of, projector_over

TABLE_IN = (60.0, 54.0)
PLACES = ((0.0, 0.0), (58.0, 0.0), (58.0, 50.0), (0.0, 50.0))


def projector_of(width_px: int, height_px: int) -> VirtualProjector:
    return projector_over(*TABLE_IN, Hung(tilt_deg=10, roll_deg=1.5), size_px=(width_px, height_px))


def table_of(width_px: int, height_px: int) -> Table:
    return fit_table(marks_of(projector_of(width_px, height_px), PLACES), width_px, height_px)
