"""The virtual projector against geometry worked by hand."""

import math

import numpy as np
import pytest

from projector.demo.virtual_projector import Hung, VirtualProjector, marks_of, projector_over
from tests.projector.demo.line_light import random_projector

EXACT_PX = 1e-9  # float rounding of a few multiplications on values up to 2000


def test_a_plumb_projector_scales_and_flips_the_far_side_up():
    # 96 in up, focal 1920 px: 20 px to an inch; +x goes right, +y goes up in the frame
    projector = VirtualProjector((48.0, 30.0, 96.0), (48.0, 30.0), 1920.0)
    assert projector.to_frame([(48, 30), (58, 30), (48, 40)]) == pytest.approx(
        np.array([(960, 540), (1160, 540), (960, 340)]), abs=EXACT_PX
    )


def test_a_point_is_where_the_ray_through_its_pixel_meets_the_table():
    # beam tilted by 20 degrees along y: a pixel d below the middle leaves at an angle atan(d / F) nearer the person
    height, tilt, focal, down = 96.0, math.radians(20), 1500.0, 300.0
    lens_y = 30 - height * math.tan(tilt)
    projector = VirtualProjector((48.0, lens_y, height), (48.0, 30.0), focal)
    expected_y = lens_y + height * math.tan(tilt - math.atan(down / focal))
    assert projector.to_table([(960, 540 + down)])[0] == pytest.approx([48.0, expected_y], abs=1e-9)


def test_the_map_is_undone_exactly_with_and_without_a_lens():
    places = np.array([(0, 0), (96, 0), (96, 60), (0, 60), (31, 17)], float)
    for k1 in (0.0, -0.05):
        projector = projector_over(96, 60, Hung(tilt_deg=25, towards_deg=210, roll_deg=3, k1=k1))
        assert projector.to_table(projector.to_frame(places)) == pytest.approx(places, abs=1e-8)


def test_a_mirror_in_the_light_path_flips_left_and_right():
    plain, mirrored = (projector_over(96, 60, Hung(tilt_deg=10, mirrored=m)) for m in (False, True))
    places = [(10, 10), (80, 50)]
    a, b = plain.to_frame(places), mirrored.to_frame(places)
    assert b[:, 0] == pytest.approx(1920 - a[:, 0], abs=EXACT_PX)
    assert b[:, 1] == pytest.approx(a[:, 1], abs=EXACT_PX)


def test_a_projector_hung_anyhow_lights_the_whole_table() -> None:
    rng = np.random.default_rng(4)
    for _ in range(50):
        pixels = random_projector(rng).to_frame([(0, 0), (96, 0), (96, 60), (0, 60)])
        assert (pixels > 0).all()
        assert (pixels < [1920, 1080]).all()


def test_marks_carry_the_inches_and_the_pixel_that_lights_them() -> None:
    projector = projector_over(96, 60, Hung(tilt_deg=15))
    exact = marks_of(projector, [(2, 2), (94, 58)])
    assert [mark.table for mark in exact] == [(2.0, 2.0), (94.0, 58.0)]
    assert np.array([mark.pixel for mark in exact]) == pytest.approx(projector.to_frame([(2, 2), (94, 58)]))
