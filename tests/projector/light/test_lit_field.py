"""A frame lit all over with darker marks: mixed in light, marks where they are on a dark frame."""

import numpy as np
import pytest

from projector.light.raster import Canvas
from projector.light.segments import segments
from tests.projector.light.meter import GAMMA, column_centres, light_of


def frame_of(field: int, colour: int) -> np.ndarray:
    canvas = Canvas(200, 120, GAMMA)
    canvas.field = field
    canvas.lines(segments([(-10.0, 58.3)], [(210.0, 61.9)], 2.5, colours=[colour]))
    return canvas.frame.copy()


def test_dark_lines_on_light_lie_where_light_lines_on_dark_do() -> None:
    lit, dark = light_of(frame_of(0, 0xFFFFFF)), 1 - light_of(frame_of(0xFFFFFF, 0))
    _, centres = column_centres(lit)
    total, dark_centres = column_centres(dark)
    # Near full light one step of 255 is worth 0.9 % of the light: over a line of four pixels about 0.01 px.
    assert np.sqrt(np.mean((dark_centres - centres)[5:-5] ** 2)) < 0.01
    assert total[5:-5].mean() == pytest.approx(2.5 * np.hypot(1, 3.6 / 220), abs=0.02)


def test_all_that_no_mark_covers_is_lit_in_the_field() -> None:
    frame = frame_of(0x99AABB, 0x000000)
    assert (frame[:50] == 0x99AABB).all()
    assert (frame == 0).any()


def test_a_frame_made_dark_again_is_as_if_it_had_never_been_lit() -> None:
    canvas = Canvas(200, 120, GAMMA)
    canvas.field = 0xFFFFFF
    canvas.field = 0
    canvas.lines(segments([(-10.0, 58.3)], [(210.0, 61.9)], 2.5, colours=[0xFFFFFF]))
    assert (canvas.frame == frame_of(0, 0xFFFFFF)).all()


def test_a_field_that_is_no_colour_is_refused() -> None:
    with pytest.raises(ValueError, match="colour"):
        Canvas(10, 10).field = -1
