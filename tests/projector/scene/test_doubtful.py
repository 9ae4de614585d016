"""Cut lines that may be farther off than allowed: lit in another way, labelled, and nothing else changed."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from projector.scene.boxes import Box
from projector.scene.doubtful import with_doubt
from projector.scene.lettering import box_of
from projector.scene.marks import Kind, Point, Scene, Stroke, Text
from projector.scene.stop_scene import scene_of_stop
from tests.projector.session.plans import plan_of

TOLERANCE_IN = 1 / 16
PLAN = plan_of(2, 1)
SCENE = scene_of_stop(PLAN, PLAN.stops[0])


def say(error_in: float) -> str:
    return f"within {error_in:g}"


def doubted(error_in: float) -> Scene:
    return with_doubt(SCENE, lambda start, end: error_in, TOLERANCE_IN, say)


def test_lines_within_the_tolerance_stay_as_they_are() -> None:
    assert doubted(TOLERANCE_IN) == SCENE


def test_doubtful_lines_and_their_ticks_are_lit_otherwise() -> None:
    scene = doubted(0.125)
    assert scene.of(Kind.CUT) == ()
    changed = [mark.points for mark in scene.of(Kind.CUT_DOUBTFUL) if isinstance(mark, Stroke)]
    assert changed == [mark.points for mark in SCENE.of(Kind.CUT) if isinstance(mark, Stroke)]


def test_each_doubtful_line_says_how_far_off_it_may_be() -> None:
    labels = [mark for mark in doubted(0.125).marks if isinstance(mark, Text) and mark.text == "within 0.125"]
    # The cut of this stop is lit with both its edges.
    assert len(labels) == 2
    others = [mark for mark in SCENE.marks if isinstance(mark, Text)]
    for label in labels:
        assert not any(box_of(label).overlaps(box_of(other)) for other in others)


def test_only_the_line_that_is_in_doubt_changes() -> None:
    lines = [mark for mark in SCENE.of(Kind.CUT) if isinstance(mark, Stroke)]
    left = min(x for line in lines for x, _ in line.points)

    def error_of(start: Point, end: Point) -> float:
        return 1.0 if start[0] < left + 1 else 0.0

    scene = with_doubt(SCENE, error_of, TOLERANCE_IN, say)
    assert {point[0] < left + 2 for mark in scene.of(Kind.CUT_DOUBTFUL) for point in mark.points} == {True}  # type: ignore[union-attr]
    # The other edge keeps its line and its two ticks.
    assert len(scene.of(Kind.CUT)) == 3


def test_a_label_without_room_is_left_out_but_the_line_is_still_in_doubt() -> None:
    scene = with_doubt(SCENE, lambda start, end: 1.0, TOLERANCE_IN, say, lambda box: False)
    assert not any(isinstance(mark, Text) and mark.text.startswith("within") for mark in scene.marks)
    assert scene.of(Kind.CUT) == ()


def test_faint_lines_make_way_for_the_label() -> None:
    scene = doubted(0.125)
    for label in (mark for mark in scene.marks if isinstance(mark, Text) and mark.text.startswith("within")):
        for mark in scene.of(Kind.ROW, Kind.COLUMN, Kind.FOLD):
            assert isinstance(mark, Stroke)
            (x0, y0), (x1, y1) = mark.points
            run = Box(min(x0, x1), min(y0, y1), max(x0, x1) + 1e-9, max(y0, y1) + 1e-9)
            assert not run.overlaps(box_of(label))


@given(st.floats(0, 1), st.floats(1e-3, 1))
@settings(max_examples=30)
def test_a_line_is_in_doubt_exactly_when_its_error_exceeds_the_tolerance(error_in: float, tolerance_in: float) -> None:
    scene = with_doubt(SCENE, lambda start, end: error_in, tolerance_in, say)
    assert bool(scene.of(Kind.CUT_DOUBTFUL)) == (error_in > tolerance_in)
