"""A scene moved as a whole is lit as its marks are where they were moved to, rooms for words and all."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projector.light import moving
from projector.light.raster.canvas import Canvas
from projector.light.warp import draw
from projector.scene.boxes import Box
from projector.scene.marks import Hatch, Kind, Scene, Stroke, Text
from projector.scene.moved import Affine, MovedScene, turned_about
from tests.projector.light.tables import ASKEW, SQUARE

UNDER = Scene(
    (
        *(Stroke(Kind.ROW, ((4.0, y), (44.0, y))) for y in (4.0, 9.5, 15.0)),
        *(Stroke(Kind.COLUMN, ((x, 2.0), (x, 24.0))) for x in (10.0, 23.25)),
        Stroke(Kind.CUT, ((6.0, -1.0), (6.0, 26.0))),
        Stroke(Kind.ROW, ((5.0, 20.0), (20.0, 20.5), (44.0, 20.0))),
        Hatch(Kind.DONE, ((30.0, 3.0), (40.0, 3.0), (40.0, 8.0))),
        Stroke(Kind.FOLD, ((12.0, 6.0), (40.0, 6.5))),
        Text(Kind.TOP, "TOP", (20.0, 12.0), 2.0),
    )
)
OVER = Scene((Text(Kind.LETTER, "light moved", (24.0, 22.0), 1.0), Stroke(Kind.TARGET, ((1.0, 1.0), (3.0, 1.0)))))


def frame(over: Scene, under: MovedScene | None = None) -> np.ndarray:
    canvas = Canvas(ASKEW.width_px, ASKEW.height_px)
    if under is None:
        draw(over, ASKEW, canvas)
    else:
        draw(over, ASKEW, canvas, under=under)
    return np.stack([(canvas.frame >> shift & 255).astype(int) for shift in (16, 8, 0)])


def rooms(shift: tuple[float, float]) -> tuple[Box, ...]:
    """Rooms about a row, a column, the crossing of two, and where nothing is lit."""
    x, y = shift
    boxes = (Box(15, 9, 20, 10), Box(22, 12, 24, 16), Box(9, 3, 12, 5), Box(46, 1, 47, 2))
    return tuple(Box(box.left + x, box.near + y, box.right + x, box.far + y) for box in boxes)


SHIFTS = st.tuples(*[st.sampled_from([-33, -4, 0, 1, 7, 40]).map(lambda n: n / 64)] * 2)


@given(SHIFTS, SHIFTS)
@settings(max_examples=12)
def test_shifted_with_words_over_it(shift: tuple[float, float], off: tuple[float, float]) -> None:
    under = MovedScene(UNDER, ((1.0, 0.0, shift[0]), (0.0, 1.0, shift[1])), rooms(off))
    assert np.abs(frame(OVER, under) - frame(Scene((*under.marks, *OVER.marks)))).max() <= 1
    assert np.abs(frame(OVER, under) - frame(OVER, MovedScene(UNDER, under.motion))).max() > 50, "a room is dark"


@pytest.mark.parametrize("motion", [None, turned_about((24.0, 13.0), 0.35, (0.7, -0.4))])
def test_still_or_turned(motion: Affine | None) -> None:
    under = MovedScene(UNDER, motion, rooms((0.0, 0.0)))
    assert np.abs(frame(OVER, under) - frame(Scene((*under.marks, *OVER.marks)))).max() <= 1


def test_dots_are_anchored_to_the_stroke_so_a_nudge_carries_them_along() -> None:
    row, canvas = Scene((Stroke(Kind.ROW, ((3.0, 10.0), (40.0, 10.0))),)), Canvas(SQUARE.width_px, SQUARE.height_px)
    draw(row, SQUARE, canvas)
    still = canvas.frame.copy()
    # At 20 px an inch: 2 px right, 1 px nearer.
    draw(Scene(), SQUARE, canvas, under=MovedScene(row, ((1.0, 0.0, 0.1), (0.0, 1.0, -0.05))))
    assert np.array_equal(np.roll(still, (1, 2), axis=(0, 1)), canvas.frame)


def test_a_scene_is_made_into_segments_once_however_it_is_moved(monkeypatch: pytest.MonkeyPatch) -> None:
    scene, made = Scene(UNDER.marks), []
    whole = moving.segments_of_marks
    monkeypatch.setattr(moving, "segments_of_marks", lambda one, styles: made.append(one) or whole(one, styles))
    for number in range(5):
        frame(Scene(), MovedScene(scene, ((1.0, 0.0, number / 64), (0.0, 1.0, 0.0))))
    assert made.count(scene) == 1
