"""Filled outlines cover exactly the area they should."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projector.light.fills import Fill
from projector.light.raster import Canvas
from tests.projector.light.meter import light_of


def filled(*outlines: list[tuple[float, float]], width: int = 100, height: int = 80) -> np.ndarray:
    """Light of outlines lit as one area."""
    sizes = [len(outline) for outline in outlines]
    points = np.array([point for outline in outlines for point in outline], np.float64)
    canvas = Canvas(width, height)
    canvas.fills([Fill(points, np.cumsum(sizes) - sizes, 0xFFFFFF)])
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


coordinate = st.floats(-60, 160)


@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=3))
def test_triangles_partly_outside_look_as_in_a_larger_frame_and_cover_as_many_samples(
    corners: list[tuple[float, float]],
) -> None:
    light = filled(corners)
    larger = filled([(x + 100, y + 100) for x, y in corners], width=300, height=280)[100:180, 100:200]
    assert np.abs(light - larger).max() < STEP
    share = sampled(corners)
    assert np.abs(light - share).max() < 0.1  # an edge passes 16 samples a pixel side, so a sixteenth and one step
    assert abs(light.sum() - share.sum()) < 0.5 + 0.01 * (share > 0).sum()


FINE = 16


def sampled(corners: list[tuple[float, float]], width: int = 100, height: int = 80) -> np.ndarray:
    """Share of 16 x 16 points in each pixel that lie on the inner side of all three edges."""
    x, y = np.meshgrid((np.arange(width * FINE) + 0.5) / FINE, (np.arange(height * FINE) + 0.5) / FINE)
    sides = []
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        sides.append((bx - ax) * (y - ay) - (by - ay) * (x - ax))
    inside = np.logical_and.reduce([side > 0 for side in sides]) | np.logical_and.reduce([side < 0 for side in sides])
    return inside.reshape(height, FINE, width, FINE).mean(axis=(1, 3))


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
    together, singly = Canvas(1500, 1500), Canvas(1500, 1500)
    together.fills(fills)
    for fill in fills:
        singly.fills([fill])
    assert np.array_equal(together.frame, singly.frame)


def test_a_point_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="not a number"):
        filled([(0, 0), (10, float("nan")), (20, 0)])
