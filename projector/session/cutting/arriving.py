"""A session brought to a stop without a person: what is lit there is what they find who come there by forward alone."""

from __future__ import annotations

from calibration.table import Table
from jobs.model.plan import Plan
from projector.scene.lit_stretch import reach_across
from projector.session.actions import Action
from projector.session.cutting.host import Cutting
from projector.session.cutting.recording import not_kept
from projector.session.cutting.remembered import AT_FIRST, Before
from projector.session.lighting.lighting import bench_of
from projector.session.state.pages import Page

PRESSES_A_STOP = 8
"""More than the pages that any stop may ask to be gone through."""
REST_S = 60.0
"""Quiet before each press: nothing counts as a slip."""


def session_for(plan: Plan, table: Table, before: Before = AT_FIRST) -> Cutting:
    """A session with nothing recorded, light on the cloth by ``table``; ``before`` is what an earlier one left."""
    bench = bench_of(plan, table, lit_width_in=reach_across(plan.job, table.lit_area()))
    return Cutting(bench, table, not_kept, before=before)


def arrive(cutting: Cutting, at: int) -> None:
    """Press forward until the stop number ``at``, counted from 0, is lit; the cuts on the way are ticked.

    Raises ValueError when the session lies beyond that stop, or cannot come there.
    """
    for _ in range(PRESSES_A_STOP * (at + 2)):
        session = cutting.session
        if session.page is Page.STOP and session.at >= at:
            break
        cutting.press(Action.NEXT_STOP, REST_S)
    if cutting.session.page is not Page.STOP or cutting.session.at != at:
        raise ValueError(f"forward alone does not lead to stop {at + 1}")
