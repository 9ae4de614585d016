"""Light on a raised surface, by similar triangles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calibration.height import LensPosition, LensTooLow, possible_shift_in
from calibration.homography import apply


def test_a_quarter_inch_of_cloth_moves_light_36_inches_out_by_3_32() -> None:
    # Lens 96 up: 36 (1 - 1/4 / 96) = 36 - 0.09375 = 35.90625, exactly representable.
    np.testing.assert_allclose(LensPosition((0, 0), 96).lands([(36, 0)], 0.25), [(35.90625, 0)], atol=1e-12)


@given(st.floats(-50, 50), st.floats(-50, 50), st.floats(30, 200), st.floats(0, 5))
def test_aiming_makes_the_light_land_where_it_is_wanted(x: float, y: float, height: float, raised: float) -> None:
    lens = LensPosition((12, 30), height)
    np.testing.assert_allclose(lens.lands(lens.aim([(x, y)], raised), raised), [(x, y)], atol=1e-9)
    np.testing.assert_allclose(apply(lens.aiming(raised), [(x, y)]), lens.aim([(x, y)], raised), atol=1e-9)


def test_under_the_lens_nothing_moves() -> None:
    np.testing.assert_allclose(LensPosition((20, 10), 80).lands([(20, 10)], 3), [(20, 10)])


@pytest.mark.parametrize("raised", [-0.1, 96, 100])
def test_a_surface_at_the_lens_or_below_the_table_is_refused(raised: float) -> None:
    with pytest.raises(LensTooLow, match="between the table and the lens"):
        LensPosition((0, 0), 96).lands([(1, 1)], raised)


def test_an_unknown_lens_gives_the_farthest_possible_shift() -> None:
    # 80 x 60 lit: 100 across corners; lens taken to be at least 80 up: 100 * 0.4 / 80 = 1/2.
    area = [(0, 0), (80, 0), (80, 60), (0, 60)]
    assert possible_shift_in(area, 0.4) == pytest.approx(0.5)
    assert possible_shift_in(area, 0.4, nearest_lens_in=100) == pytest.approx(0.4)
    with pytest.raises(LensTooLow):
        possible_shift_in(area, 90)


def test_no_lens_over_the_lit_area_moves_the_light_farther_than_the_bound() -> None:
    rng = np.random.default_rng(2)
    area = np.array([(0, 0), (80, 0), (80, 60), (0, 60)], float)
    bound = possible_shift_in(area, 0.4)
    for _ in range(200):
        lens = LensPosition((rng.uniform(0, 80), rng.uniform(0, 60)), rng.uniform(80, 200))
        points = rng.uniform((0, 0), (80, 60), (20, 2))
        assert (np.linalg.norm(lens.lands(points, 0.4) - points, axis=1) <= bound).all()
