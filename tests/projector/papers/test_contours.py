"""Contours of heights on a grid, against heights whose contours are known."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from projector.papers.error_picture import Line, above, contour


def area_of(line: Line) -> float:
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(line, (*line[1:], line[0]), strict=True))) / 2


def test_a_slope_has_straight_contours_where_it_passes_the_level() -> None:
    heights = np.tile(np.arange(6.0), (4, 1))
    (line,) = contour(heights, 2.25)
    assert sorted(line) == [(2.25, 0.0), (2.25, 1.0), (2.25, 2.0), (2.25, 3.0)]
    # From column 2.25 to column 5, three rows deep.
    assert sum(area_of(part) for part in above(heights, 2.25)) == pytest.approx(2.75 * 3)


def test_a_cone_has_a_closed_ring_of_the_right_radius() -> None:
    y, x = np.mgrid[0:41, 0:41]
    (ring,) = contour(np.hypot(x - 20, y - 20), 12.0)
    assert ring[0] == ring[-1]
    # A cone is straight along each grid line through its tip; elsewhere a chord of one cell bends by 1/(8 r) of a cell.
    assert [math.dist(point, (20, 20)) for point in ring] == pytest.approx([12.0] * len(ring), abs=1 / (8 * 12))


def test_cells_without_a_height_have_no_contour() -> None:
    heights = np.tile(np.arange(6.0), (4, 1))
    heights[1, 2] = np.nan
    assert all(y >= 2 for line in contour(heights, 2.25) for _, y in line)


def test_flat_heights_have_no_contour_and_lie_wholly_above_or_below() -> None:
    assert contour(np.ones((4, 5)), 0.5) == ()
    assert sum(area_of(part) for part in above(np.ones((4, 5)), 0.5)) == pytest.approx(12)
    assert above(np.ones((4, 5)), 1.5) == ()


@given(arrays(float, (5, 6), elements=st.floats(0, 1)), st.floats(0.01, 0.99))
@settings(max_examples=60)
def test_what_is_above_and_what_is_below_make_up_the_whole_grid(heights: np.ndarray, level: float) -> None:
    assume((heights != level).all())
    upper = sum(area_of(part) for part in above(heights, level))
    lower = sum(area_of(part) for part in above(-heights, -level))
    # Only cells with a saddle are counted twice or not at all in part, by less than their own area each.
    saddles = sum(
        ((corner := heights[y : y + 2, x : x + 2] >= level)[0, 0] == corner[1, 1])
        and (corner[0, 1] == corner[1, 0])
        and corner[0, 0] != corner[0, 1]
        for y in range(4)
        for x in range(5)
    )
    assert upper + lower == pytest.approx(20, abs=1e-6 + saddles)


@given(arrays(float, (5, 6), elements=st.floats(0, 1)), st.floats(0.01, 0.99))
@settings(max_examples=60)
def test_a_contour_ends_only_at_the_border(heights: np.ndarray, level: float) -> None:
    for line in contour(heights, level):
        if line[0] != line[-1]:
            for x, y in (line[0], line[-1]):
                assert x in (0, 5) or y in (0, 4)
