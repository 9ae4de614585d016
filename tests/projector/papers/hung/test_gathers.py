"""Gathered cloth: nothing of it is lost in the folds, and rows stay where they hang."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from jobs.io.reader import read_job
from jobs.planning.planner import plan_job
from projector.papers.drawing import INK, Path, Raster
from projector.papers.hung_drawing import FOLD_IN, HungStyle, gathered, panel_drawing
from projector.papers.hung_panel import hung_panels
from projector.papers.hung_picture import hung_picture
from tests.projector.commands.running import READING_ROOM

F = Fraction


@pytest.mark.parametrize("fullness", [1.2, 1.5, 2.0, 2.5, 3.0])
def test_cloth_hangs_narrower_by_its_fullness_and_all_of_it_hangs(fullness):
    gather = gathered(100.0, fullness)
    assert gather.width == pytest.approx(100 / fullness)
    assert gather.flat[0] == gather.hung[0] == 0
    assert gather.flat[-1] == pytest.approx(100)
    assert (np.diff(gather.flat) >= np.diff(gather.hung) * 0.999).all()  # seen from the front cloth is never longer
    folds = round(gather.width / FOLD_IN)
    assert (len(gather.hung) - 1) % folds == 0
    assert gather.light.min() < 0.8 < gather.light.max() <= 1


def test_flat_cloth_is_left_as_it_is():
    gather = gathered(49.0, 1.0)
    assert (list(gather.flat), list(gather.hung), list(gather.light)) == ([0, 49], [0, 49], [1])


def corners(shape):
    """The points of a path, or two corners of a picture of pixels."""
    if isinstance(shape, Raster):
        return (shape.at, (shape.at[0] + shape.width, shape.at[1] + shape.height))
    return shape.points


def test_a_gathered_panel_keeps_its_length_its_rows_and_its_edges():
    plan = plan_job(read_job(READING_ROOM))
    (window,) = plan.job.windows
    window = replace(window, fullness=F(5, 2))
    panel = hung_panels(plan, window.name)[0]
    flat, folded = (
        panel_drawing(plan, panel, (1.0, 2.0), 0.05, HungStyle(folded=folded), window) for folded in (False, True)
    )
    for shapes, width in ((flat, 49.0), (folded, 49 / 2.5)):
        edge = shapes[-1]
        assert isinstance(edge, Path)
        assert edge.stroke == INK
        assert edge.points[2] == pytest.approx((1 + width * 0.05, 2 + 81 * 0.05))
        for shape in shapes:
            xs, ys = zip(*corners(shape), strict=True)
            assert min(xs) >= 1 - 1e-9
            assert max(xs) <= edge.points[2][0] + 1e-9
            assert min(ys) >= 2 - 1e-9
            assert max(ys) <= edge.points[2][1] + 1e-9

    def span(shapes):
        ys = [y for shape in shapes for _, y in corners(shape)]
        return min(ys), max(ys)

    assert span(flat) == pytest.approx(span(folded))


def test_the_picture_says_that_panels_are_gathered_and_keeps_flat_sizes():
    plan = plan_job(read_job(READING_ROOM))
    texts = [words.text for words in hung_picture(plan, HungStyle(folded=True)).words]
    assert "As it will hang, gathered, seen from inside the room" in texts
    assert any("49 in x 81 in" in text for text in texts)
