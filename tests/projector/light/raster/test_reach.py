"""Lines that reach outside the frame, or cross each other."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projector.light.raster.canvas import Canvas
from projector.light.raster.strips import lines_px, spans_of, strips_of
from tests.projector.light.meter import lit

coordinate = st.one_of(st.floats(-50, 170), st.floats(-3000, 3000))


def inside_of_larger(start: tuple[float, float], end: tuple[float, float], width: float, pad: int) -> np.ndarray:
    """What a larger frame shows of a line in the place of a frame of 120 x 90."""
    shift = np.array([pad, pad])
    return lit(lines_px([start + shift], [end + shift], width), 120 + 2 * pad, 90 + 2 * pad)[pad:-pad, pad:-pad]


@settings(max_examples=60)
@given(coordinate, coordinate, coordinate, coordinate, st.floats(1.0, 12.0))
def test_a_frame_shows_what_a_larger_frame_shows_in_its_place(
    x0: float, y0: float, x1: float, y1: float, width: float
) -> None:
    start, end = np.array([x0, y0]), np.array([x1, y1])
    small = lit(lines_px([start], [end], width), 120, 90)
    # Single precision counts pixels from the frame's corner, so values may round by two steps of 255.
    assert np.abs(small - inside_of_larger(start, end, width, 64)).max() < 0.02


@pytest.mark.parametrize("far", [1e4, 1e7])
@pytest.mark.parametrize("turn_deg", [0, 11, 45, 62, 90, 179])
def test_a_line_to_ten_million_pixels_lies_right_and_costs_no_more_columns_than_the_frame_has(
    turn_deg: float, far: float
) -> None:
    direction = np.array([np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))])
    middle = np.array([60.25, 45.5])
    lines = lines_px([middle - far * direction], [middle + far * direction], 2.5)
    near = lit(lines_px([middle - 400 * direction], [middle + 400 * direction], 2.5), 120, 90)
    assert np.abs(lit(lines, 120, 90) - near).max() < 0.012
    spans = spans_of(strips_of(lines), 120, 90)
    assert (spans.stop - spans.first).sum() <= 120


@pytest.mark.parametrize("joined", [False, True])
@pytest.mark.parametrize("turn_deg", [3, 40, 86, 200])
def test_the_near_end_of_a_line_from_far_away_lies_right(turn_deg: float, joined: bool) -> None:
    direction = np.array([np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))])
    end = np.array([60.25, 45.5])
    far = lit(lines_px([end - 1e7 * direction], [end], 2.5, joined=[(False, joined)]), 120, 90)
    near = lit(lines_px([end - 400 * direction], [end], 2.5, joined=[(False, joined)]), 120, 90)
    assert np.abs(far - near).max() < 0.012  # two eight-bit steps


def test_a_frame_longer_than_a_chunk_is_lit_from_end_to_end() -> None:
    light = lit(lines_px([(-5, 10.5)], [(9005, 10.5)], 3.0), 9000, 21)
    assert light[10].min() == 1.0


def test_lines_wholly_outside_cost_nothing() -> None:
    lines = lines_px([(-1e7, -1e6), (500, -1e7), (-9, -40)], [(-30, 1e6), (501, 1e7), (1e7, -40)], 12.0)
    assert len(spans_of(strips_of(lines), 120, 90).strip) == 0


@pytest.mark.parametrize("width", [25.0, 70.0, 500.0, 1e6])
def test_lines_wider_than_the_margin_stay_in_the_frame(width: float) -> None:
    light = lit(lines_px([(-10, 40), (60, -10)], [(130, 50), (61, 100)], width), 120, 90)
    assert light[45, 60] == pytest.approx(1.0)
    assert (light[:, 0].sum() > 80) == (width > 90)
    if width == 25.0:  # 12.5 px to each side of row 40.5 at column 5
        assert light[:, 5].sum() == pytest.approx(25.0 * np.hypot(1, 10 / 140), abs=0.05)


def test_where_lines_cross_the_most_covered_wins_and_nothing_is_brighter_than_full() -> None:
    canvas = Canvas(200, 200)
    canvas.light(
        lines_px([(10, 100.5), (100.5, 10)], [(190, 100.5), (100.5, 190)], [(6, 6), (1, 1)], [0xFF0000, 0x0000FF])
    )
    frame = canvas.frame
    assert frame[100, 100] == 0xFF0000  # fully covered by the red line, three quarters by the blue
    assert frame[100, 50] == 0xFF0000
    assert frame[50, 100] & 0xFF0000 == 0
    assert frame[50, 100] & 255 > 200
    assert int(frame.max()) <= 0xFFFFFF


def test_a_crossing_of_one_colour_is_no_brighter_than_its_lines() -> None:
    both = lit(lines_px([(10, 100.3), (100.3, 10)], [(190, 105.3), (120.3, 190)], 2.5), 200, 200)
    one = lit(lines_px([(10, 100.3)], [(190, 105.3)], 2.5), 200, 200)
    other = lit(lines_px([(100.3, 10)], [(120.3, 190)], 2.5), 200, 200)
    assert np.array_equal(both, np.maximum(one, other))


def test_many_lines_in_one_pass_look_as_if_drawn_one_by_one() -> None:
    chance = np.random.default_rng(3)
    starts, ends = chance.uniform(-30, 230, (150, 2)), chance.uniform(-30, 230, (150, 2))
    widths, joined = chance.uniform(0.8, 7, (150, 2)), chance.random((150, 2)) < 0.3
    together = lit(lines_px(starts, ends, widths, joined=joined), 200, 200)
    parts = (slice(number, number + 1) for number in range(150))
    singly = [lit(lines_px(starts[part], ends[part], widths[part], joined=joined[part]), 200, 200) for part in parts]
    assert np.abs(together - np.maximum.reduce(singly)).max() < 0.02


def test_more_colours_than_the_tables_hold_are_still_told_apart() -> None:
    rows = np.arange(3.5, 280, 7)
    colours = 0x010101 * np.arange(200, 200 + len(rows))
    canvas = Canvas(50, 290)
    canvas.light(lines_px(np.column_stack([rows * 0 - 9, rows]), np.column_stack([rows * 0 + 60, rows]), 1.9, colours))
    assert len(rows) > 32
    # Covered: T(0.95) + T(0.95) - 1 = 1 - 0.05^2; encoded 255 * 0.9975^(1/2.2) of the colour.
    expected = np.rint((200 + np.arange(len(rows))) * 0.9975 ** (1 / 2.2))
    assert np.abs((canvas.frame[rows.astype(int), 25] & 255).astype(int) - expected).max() <= 1
    canvas.light(lines_px([(0, 20)], [(50, 20)], 1.9, 0x00FF00))
    assert canvas.frame[19, 25] >> 8 & 255 > 200


def test_a_frame_is_written_into_another_array_whatever_its_strides() -> None:
    canvas = Canvas(64, 48)
    canvas.light(lines_px([(0, 10)], [(64, 30)], 3.0, 0x12AB9F))
    surface = np.full((64, 60), 7, np.uint32)
    canvas.into(surface[:, :48].T)
    assert np.array_equal(surface[:, :48].T, canvas.frame)
    assert np.array_equal(canvas.picture()[20, 32], [0x12, 0xAB, 0x9F])
    with pytest.raises(ValueError, match="does not fit"):
        canvas.into(np.zeros((64, 48), np.uint32))
