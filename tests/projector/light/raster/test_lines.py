"""Lines lie where they should, measured in light."""

import numpy as np
import pytest

from projector.light.raster.strips import lines_px
from tests.projector.light.meter import column_centres, lit

CENTRE_RMS_PX = 0.005  # the product's own bar for lines 2.5 px wide
WIDTH_PX = 0.02  # likewise
# Eight-bit values and the look-up tables step by up to 0.003 of full light near the edges; a thin line has little
# light to average that over, so the bar is asked of it with twice the room.
THIN_CENTRE_RMS_PX = 0.010


def measured(slope: float, width: float, steep: bool, middle: float = 150.37) -> tuple[np.ndarray, np.ndarray]:
    """Errors of centre and width, column by column (row by row for steep lines), away from the frame's rim."""
    start, end = (-20.0, middle - 220 * slope), (420.0, middle + 220 * slope)
    if steep:
        light = lit(lines_px([start[::-1]], [end[::-1]], width), 300, 400).T
    else:
        light = lit(lines_px([start], [end], width))
    total, centre = column_centres(light)
    true = middle + slope * (np.arange(400) + 0.5 - 200)
    inside = (true > 20) & (true < 280)
    return (centre - true)[inside], (total / np.hypot(1, slope) - width)[inside]


@pytest.mark.parametrize("steep", [False, True])
@pytest.mark.parametrize("slope", [0.0, 0.004, 0.013, 0.0313, 0.07, -0.05, 0.3, 0.77, 1.0])
def test_a_line_two_and_a_half_pixels_wide_is_centred_to_a_two_hundredth_of_a_pixel(slope: float, steep: bool) -> None:
    centre, width = measured(slope, 2.5, steep)
    assert np.sqrt(np.mean(centre**2)) < CENTRE_RMS_PX
    assert abs(width.mean()) < WIDTH_PX


@pytest.mark.parametrize("steep", [False, True])
@pytest.mark.parametrize("slope", [0.0, 0.02, -0.3, 1.0])
@pytest.mark.parametrize("width", [1.0, 1.3, 1.99, 2.0, 2.7, 3.0, 5.5, 8.0, 12.0])
def test_every_width_is_lit_as_wide_as_asked(width: float, slope: float, steep: bool) -> None:
    centre, error = measured(slope, width, steep)
    assert np.sqrt(np.mean(centre**2)) < THIN_CENTRE_RMS_PX
    assert abs(error.mean()) < WIDTH_PX


def test_the_measurement_notices_a_line_a_twentieth_of_a_pixel_off() -> None:
    centre, _ = measured(0.0313, 2.5, False, middle=150.37)
    light = lit(lines_px([(-20.0, 150.42 - 220 * 0.0313)], [(420.0, 150.42 + 220 * 0.0313)], 2.5))
    true = 150.37 + 0.0313 * (np.arange(400) + 0.5 - 200)
    shifted = column_centres(light)[1] - true
    assert np.sqrt(np.mean(centre**2)) < CENTRE_RMS_PX < np.sqrt(np.mean(shifted**2))
    assert shifted.mean() == pytest.approx(0.05, abs=CENTRE_RMS_PX)


def test_a_line_exactly_on_a_row_of_pixels_is_the_tent_filter_worked_by_hand() -> None:
    # Centre 100.5 is the middle of row 100; half width 1.25. Tent step T(x): T(1.25) = 1, T(0.25) = 1 - 0.75^2 / 2
    # = 0.71875, T(-0.75) = 0.25^2 / 2 = 0.03125.
    column = lit(lines_px([(10, 100.5)], [(390, 100.5)], 2.5))[97:104, 200]
    assert column == pytest.approx([0, 0.03125, 0.71875, 1, 0.71875, 0.03125, 0], abs=0.006)  # one step of 255


def test_a_line_of_two_widths_grows_evenly_between_them() -> None:
    light = lit(lines_px([(0, 150.2)], [(400, 155.2)], [(1.5, 9.5)]))
    total, _ = column_centres(light)
    columns = np.arange(20, 380)
    # Along the line: 1.5 + 8 * x / 400, times sqrt(1 + slope^2) down a column.
    expected = (1.5 + 8 * (columns + 0.5) / 400) * np.hypot(1, 5 / 400)
    assert np.abs(total[columns] - expected).max() < 0.03  # eight-bit steps of some six edge pixels


def test_direction_makes_no_difference() -> None:
    start, end, widths = (13.2, 40.1), (377.9, 251.6), (1.4, 4.4)
    there = lit(lines_px([start], [end], [widths]))
    back = lit(lines_px([end], [start], [widths[::-1]]))
    assert np.abs(there - back).max() < 0.012  # two eight-bit steps: single precision may round a pixel the other way


def test_lines_that_are_no_numbers_are_refused() -> None:
    with pytest.raises(ValueError, match="not a number"):
        lines_px([(0, float("nan"))], [(1, 1)], 2)
    with pytest.raises(ValueError, match="not a number"):
        lines_px([(0, 0)], [(float("inf"), 1)], 2)
    with pytest.raises(ValueError, match="below zero"):
        lines_px([(0, 0)], [(1, 1)], -1)


def test_a_line_without_length_or_width_lights_nothing() -> None:
    assert lit(lines_px([(50, 50), (9, 9)], [(50, 50), (90, 9)], [(3, 3), (0, 0)])).max() == 0
    assert lit(lines_px([(0, 5), (0, 0)], [(5e-324, 5), (1e-300, 1e-305)], [(1, 9), (9, 1)])).max() == 0
