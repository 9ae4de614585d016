"""Cuts of unlike lengths side by side: the length is cut off from selvedge to selvedge, slit along, and each cut off in
its own strip."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Panels
from jobs.model.piece import Piece
from jobs.planning.planner import plan_job
from projector.scene.marks import Kind, Stroke
from projector.scene.stop_scene import scene_of_stop
from tests.jobs.made import cloth, job, window

F = Fraction


def strokes(plan, cut):
    """The cut lines of a cut's stop, along the piece from its first end, without ticks beyond the selvedges."""
    stop = next(stop for stop in plan.stops if stop.placement.cut.id == cut)
    left = float(stop.cloth_at_left)
    found = {
        tuple((x + left, y) for x, y in mark.points)
        for mark in scene_of_stop(plan, stop).of(Kind.CUT)
        if isinstance(mark, Stroke)
    }
    return {line for line in found if all(0 <= y <= 54 for _, y in line)}


def test_a_shorter_strip_shows_the_crosscut_the_slit_and_its_own_end():
    strips = [
        replace(window(name, length, Panels.WHOLE), rod=F(20), cuts_per_panel=None, fullness=F(1))
        for name, length in (("A", 60), ("B", 45))
    ]
    plan = plan_job(job(cloth(pieces=(Piece(F(100)),)), *strips))
    # A lies from 0 to 20 across, B from 20 to 40; both begin at 0, A ends at 60 and B at 45.
    crosscuts = {((0.0, 0.0), (0.0, 54.0)), ((60.0, 0.0), (60.0, 54.0))}
    assert strokes(plan, "a-whole") == {*crosscuts, ((0.0, 20.0), (60.0, 20.0))}
    own_end = ((45.0, 20.0), (45.0, 40.0))
    slits = {((0.0, 20.0), (60.0, 20.0)), ((0.0, 40.0), (60.0, 40.0))}
    assert strokes(plan, "b-whole") == {*crosscuts, *slits, own_end}
