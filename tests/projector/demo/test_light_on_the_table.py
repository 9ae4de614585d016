"""Errors in inches, measured on the rendered frame of simulated projectors."""

from fractions import Fraction

import numpy as np
import pytest

from calibration.table import fit_table
from projector.demo.virtual_projector import Hung, marks_of, projector_over
from projector.light.raster.canvas import Canvas
from projector.light.warp import draw
from projector.scene.marks import Kind, Scene, Stroke
from projector.scene.stop_scene import Layers, scene_of_stop
from tests.projector.demo.line_light import DarkLineError, line_points, random_projector
from tests.projector.scene.plans import Wish, plan_of

F = Fraction
BAR_IN = 1 / 64
MARKS = ((1.0, 1.0), (95.0, 1.0), (95.0, 59.0), (1.0, 59.0))


def lit_frame(projector, scene, marks):
    table = fit_table(marks, projector.width_px, projector.height_px)
    canvas = Canvas(projector.width_px, projector.height_px)
    draw(scene, table, canvas)
    return canvas.frame.copy()


@pytest.mark.parametrize("seed", range(10))
def test_cut_lines_lie_within_a_64th_of_an_inch_with_exact_marks(seed):
    rng = np.random.default_rng(seed)
    projector = random_projector(rng)
    plan = plan_of(Wish(lengths=(F(int(rng.integers(40, 88))), F(40))))
    scene = scene_of_stop(plan, plan.stops[0], layers=Layers(rows=False, match=False, folds=False, letters=False))
    frame = lit_frame(projector, scene, marks_of(projector, MARKS))
    lines = [s for s in scene.of(Kind.CUT) if s.points[0][0] == s.points[1][0]]
    assert len(lines) == 2
    for line in lines:
        ends = tuple((x, min(max(y, 1.0), 53.0)) for x, y in line.points)
        points = line_points(frame, projector, ends)
        assert len(points) > 300
        assert np.abs(points[:, 0] - line.points[0][0]).max() < BAR_IN


def test_the_measuring_sees_a_line_that_lies_wrong():
    projector = projector_over(96, 60, Hung(tilt_deg=15))
    wrong = Scene((Stroke(Kind.CUT, ((40.05, 0.0), (40.05, 54.0))),))
    points = line_points(
        lit_frame(projector, wrong, marks_of(projector, MARKS)), projector, ((40.0, 2.0), (40.0, 52.0))
    )
    assert points[:, 0].mean() == pytest.approx(40.05, abs=0.002)  # a tenth of a pixel's 20th of an inch


def test_a_dark_line_is_not_measured():
    projector = projector_over(96, 60)
    with pytest.raises(DarkLineError, match="show no line"):
        line_points(np.zeros((1080, 1920), np.uint32), projector, ((40.0, 2.0), (40.0, 52.0)))
