"""Ends and bends of lines."""

import numpy as np
import pytest

from projector.light.raster.strips import lines_px
from tests.projector.light.meter import lit

END_PX = 0.05  # the product's own bar


def ends_along(light: np.ndarray, at: tuple[float, float], direction: tuple[float, float]) -> tuple[float, float]:
    """First moment and total of light along a direction, as the two ends of an even line: middle -+ half its length."""
    rows, columns = np.indices(light.shape) + 0.5
    along = (columns - at[0]) * direction[0] + (rows - at[1]) * direction[1]
    total = light.sum()
    mean = (light * along).sum() / total
    # An even stretch of length L has variance L^2 / 12; the tent filter and its lean add 1/6 px^2 along either axis.
    spread = (light * (along - mean) ** 2).sum() / total - 1 / 6
    half = np.sqrt(3 * spread)
    return mean - half, mean + half


@pytest.mark.parametrize("width", [1.2, 2.5, 6.0])
@pytest.mark.parametrize("turn_deg", [0, 7, 30, 45, 60, 83, 90, 135, 200, 290])
def test_a_short_line_ends_where_it_should(turn_deg: float, width: float) -> None:
    turn = np.radians(turn_deg)
    direction = (np.cos(turn), np.sin(turn))
    start = np.array([150.3, 140.8])
    end = start + 60.0 * np.array(direction)
    low, high = ends_along(lit(lines_px([start], [end], width)), (150.3, 140.8), direction)
    assert low == pytest.approx(0.0, abs=END_PX)
    assert high == pytest.approx(60.0, abs=END_PX)


def test_ends_a_tenth_of_a_pixel_off_would_be_noticed() -> None:
    low, high = ends_along(lit(lines_px([(50.4, 100.5)], [(110.4, 100.5)], 2.5)), (50.3, 100.5), (1, 0))
    assert abs(low) > END_PX
    assert abs(high - 60.0) > END_PX


@pytest.mark.parametrize("length", [0.5, 1.0, 1.7, 3.0, 8.0])
@pytest.mark.parametrize("width", [1.0, 2.5, 5.0])
def test_a_dot_gives_as_much_light_as_its_area(length: float, width: float) -> None:
    total = lit(lines_px([(100.3, 80.6)], [(100.3 + length, 80.6)], width)).sum()
    assert total == pytest.approx(length * width, abs=0.03 + 0.01 * length)  # eight-bit steps of its rim


def test_an_end_is_cut_square_and_a_joined_one_is_round() -> None:
    square = lit(lines_px([(100.5, 100.5)], [(200.5, 100.5)], 10.0))
    assert square[100, 99] == 0
    assert square[100, 100] == pytest.approx(0.5, abs=0.01)
    going_on = lit(lines_px([(100.5, 100.5)], [(200.5, 100.5)], 10.0, joined=[(True, False)]))
    assert going_on[100, 97] == pytest.approx(1.0, abs=0.01)
    assert going_on[100, 94] == 0
    assert going_on[95, 95] == 0  # outside the round: 7.1 px from the end, filter included 6
    # 4 * sqrt(2) = 5.657 px from the end: T(5 - 5.657) = 0.343^2 / 2
    assert going_on[96, 96] == pytest.approx(0.0588, abs=0.003)
    assert going_on[:, 201].max() < 0.51


@pytest.mark.parametrize("bend_deg", [0, 15, 60, 90, 120, 160])
@pytest.mark.parametrize("width", [1.5, 2.5, 8.0])
def test_a_bend_has_no_gap(bend_deg: float, width: float) -> None:
    corner = np.array([200.3, 150.7])
    turn = np.radians(bend_deg)
    far = corner + 80 * np.array([np.cos(turn), np.sin(turn)])
    near = corner - np.array([80.0, 0.0])
    light = lit(lines_px([near, corner], [corner, far], width, joined=[(False, True), (True, False)]))
    path = np.concatenate(
        [
            near + (corner - near) * np.linspace(0.1, 1, 60)[:, None],
            corner + (far - corner) * np.linspace(0, 0.9, 60)[:, None],
        ]
    )
    along = light[path[:, 1].astype(int), path[:, 0].astype(int)]
    plain = lit(lines_px([near, corner], [corner, far], width))
    straight = lit(lines_px([near], [near + np.array([160.0, 0.0])], width))
    darkest = straight[near[1].astype(int), 130:240].min()
    assert along.min() > min(0.9 * darkest, 0.45)
    if bend_deg in (60, 90) and width == 8.0:  # without the round joint the outer corner is bare
        assert plain.sum() < light.sum() - 1


def test_pieces_of_a_straight_line_joined_up_look_like_one() -> None:
    start, end = np.array([20.0, 61.3]), np.array([380.0, 90.1])
    stops = start + (end - start) * np.linspace(0, 1, 14)[:, None]
    joined = np.column_stack([np.arange(13) > 0, np.arange(13) < 12])
    pieces = lit(lines_px(stops[:-1], stops[1:], 2.5, joined=joined))
    whole = lit(lines_px([start], [end], 2.5))
    assert np.abs(pieces - whole).max() < 0.012  # two eight-bit steps


def test_a_line_wide_only_far_outside_the_frame_lights_nothing_when_it_passes_above_it() -> None:
    assert lit(lines_px([[-4000.0, -90.0]], [[390.0, -90.0]], [(200.0, 2.0)])).max() == 0.0
