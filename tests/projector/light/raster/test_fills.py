"""Filled outlines cover exactly the area they should."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from projector.light.raster.canvas import Canvas
from projector.light.raster.fills import Fill
from tests.projector.light.meter import NO_LINES, light_of


def filled(*outlines: list[tuple[float, float]], width: int = 100, height: int = 80) -> np.ndarray:
    """Light of outlines lit as one area."""
    sizes = [len(outline) for outline in outlines]
    points = np.array([point for outline in outlines for point in outline], np.float64)
    canvas = Canvas(width, height)
    canvas.light(NO_LINES, [Fill(points, np.cumsum(sizes) - sizes, 0xFFFFFF)])
    return light_of(canvas.frame)


STEP = 0.006  # one eight-bit step of light at its coarsest, 2.2 / 255 of it and half a table step
SQUARE = [(10.25, 20.5), (60.5, 20.5), (60.5, 50.75), (10.25, 50.75)]


def test_a_square_between_pixels_lights_each_by_its_share() -> None:
    light = filled(SQUARE)
    assert light[30, 30] == 1.0
    assert light[30, 10] == pytest.approx(0.75, abs=STEP)
    assert light[20, 30] == pytest.approx(0.5, abs=STEP)
    assert light[50, 60] == pytest.approx(0.375, abs=STEP)
    assert light[20, 10] == pytest.approx(0.375, abs=STEP)
    assert light[19, :].max() == light[51, :].max() == light[:, 9].max() == light[:, 61].max() == 0


def test_a_hole_is_an_outline_that_turns_the_other_way_and_mirroring_changes_nothing() -> None:
    hole = [(30.0, 30.0), (30.0, 40.0), (40.0, 40.0), (40.0, 30.0)]
    light = filled(SQUARE, hole)
    assert light[35, 35] == 0
    assert light[35, 25] == 1
    mirrored = filled([(100 - x, y) for x, y in SQUARE], [(100 - x, y) for x, y in hole])
    assert np.abs(mirrored - light[:, ::-1]).max() < STEP


def test_outlines_that_overlap_join() -> None:
    light = filled(SQUARE, [(40, 30), (80, 30), (80, 70), (40, 70)])
    assert light[40, 50] == 1
    assert light[60, 70] == 1


coordinate = st.floats(-24, 64)


@settings(max_examples=15)
@example([(0, 0), (9, 8), (45, 45)])
@example([(0.5, 0.5), (39.5, 0.25), (0.5, 0.75)])
@given(st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=3))
def test_triangles_partly_outside_look_as_in_a_larger_frame_and_light_each_pixel_by_the_area_they_cover(
    corners: list[tuple[float, float]],
) -> None:
    light = filled(corners, width=40, height=32)
    larger = filled([(x + 40, y + 40) for x, y in corners], width=120, height=112)[40:72, 40:80]
    assert np.abs(light - larger).max() < STEP
    share = covered(corners)
    assert np.abs(light - share).max() < STEP
    # Steps of light are as often rounded up as down: in the sum they nearly cancel.
    assert abs(light.sum() - share.sum()) < 0.02 + 0.002 * np.count_nonzero((share > 0) & (share < 1))


def covered(corners: list[tuple[float, float]], width: int = 40, height: int = 32) -> np.ndarray:
    """Area of each pixel that a triangle covers, exact until the end: it is clipped to the pixel in fractions."""
    exact = [(Fraction(x), Fraction(y)) for x, y in corners]
    share = np.zeros((height, width))
    for row in range(height):
        strip = clipped(clipped(exact, 1, row, 1), 1, row + 1, -1)
        for column in range(width) if strip else ():
            share[row, column] = float(area_of(clipped(clipped(strip, 0, column, 1), 0, column + 1, -1)))
    return share


Corner = tuple[Fraction, Fraction]


def clipped(outline: list[Corner], axis: int, at: int, side: int) -> list[Corner]:
    """The part of a convex outline with side * (coordinate - at) >= 0.

    Method: I. E. Sutherland and G. W. Hodgman, Communications of the ACM 17 (1974) 32, one edge of the window.
    """
    found: list[Corner] = []
    for start, end in zip(outline[-1:] + outline[:-1], outline, strict=True):
        before, after = side * (start[axis] - at), side * (end[axis] - at)
        if before * after < 0:
            share = before / (before - after)
            found.append((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))
        if after >= 0:
            found.append(end)
    return found


def area_of(outline: list[Corner]) -> Fraction:
    """The area inside an outline: half the sum of x0 y1 - x1 y0 over its edges."""
    following = outline[1:] + outline[:1]
    return abs(sum(((a[0] * b[1] - b[0] * a[1]) for a, b in zip(outline, following, strict=True)), Fraction(0))) / 2


def test_the_reference_is_exact_for_a_sliver() -> None:
    # By the shoelace formula: (9 * 45 - 45 * 8) / 2 = 22.5.
    assert covered([(0, 0), (9, 8), (45, 45)], 50, 50).sum() == pytest.approx(22.5, abs=1e-9)


def test_a_triangle_that_reaches_ten_million_pixels_costs_no_more_than_the_frame() -> None:
    light = filled([(50, -1e7), (1e7, 1e7), (-1e7, 40.5)])
    # The left edge meets row 40 almost level: right of it all is lit down to the lower edge, far below the frame.
    assert light[60:, 50:].min() >= 0
    assert light[10, 50] == 1
    assert filled([(-500, -1e7), (-400, 1e7), (-1e7, 0)]).max() == 0


def test_filling_many_at_once_is_filling_them_one_by_one() -> None:
    chance = np.random.default_rng(5)
    fills = [
        Fill(chance.uniform(0, 1300, 2) + chance.uniform(0, 240, (5, 2)), np.array([0]), 0xFFFFFF) for _ in range(60)
    ]
    canvas = Canvas(1500, 1500)
    canvas.light(NO_LINES, fills)
    together, singly = canvas.frame.copy(), np.zeros((1500, 1500), np.uint32)
    for fill in fills:
        canvas.light(NO_LINES, [fill])
        singly = np.maximum(singly, canvas.frame)
    assert np.array_equal(together, singly)


def test_a_point_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="not a number"):
        filled([(0, 0), (10, float("nan")), (20, 0)])
