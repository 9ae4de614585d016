"""Light on a raised surface, by similar triangles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from calibration.height import LensPosition, LensTooLow, possible_shift_in
from calibration.homography import apply, inverse


def lands(lens: LensPosition, aimed_in: ArrayLike, raised_in: float) -> np.ndarray:
    """Where light aimed at table points lands on a surface ``raised_in`` up."""
    return apply(inverse(lens.aiming(raised_in)), aimed_in)


def test_a_quarter_inch_of_cloth_moves_light_36_inches_out_by_3_32() -> None:
    # Lens 96 up: 36 (1 - 1/4 / 96) = 36 - 0.09375 = 35.90625, exactly representable.
    np.testing.assert_allclose(lands(LensPosition((0, 0), 96), [(36, 0)], 0.25), [(35.90625, 0)], atol=1e-12)


@given(st.floats(-50, 50), st.floats(-50, 50), st.floats(30, 200), st.floats(0, 5))
def test_a_ray_from_the_lens_to_where_is_aimed_passes_the_wanted_place(
    x: float, y: float, height: float, raised: float
) -> None:
    (aimed,) = apply(LensPosition((12, 30), height).aiming(raised), [(x, y)])
    # The ray has come down by height - raised of height when it is there.
    np.testing.assert_allclose((12, 30) + (aimed - (12, 30)) * (height - raised) / height, (x, y), atol=1e-9)


def test_under_the_lens_nothing_moves() -> None:
    np.testing.assert_allclose(lands(LensPosition((20, 10), 80), [(20, 10)], 3), [(20, 10)])


@pytest.mark.parametrize("raised", [-0.1, 96, 100])
def test_a_surface_at_the_lens_or_below_the_table_is_refused(raised: float) -> None:
    with pytest.raises(LensTooLow, match="between the table and the lens"):
        LensPosition((0, 0), 96).aiming(raised)


def test_on_the_bare_table_nothing_moves() -> None:
    assert possible_shift_in([(0, 0), (80, 0), (80, 60), (0, 60)], 0) == 0
    np.testing.assert_array_equal(LensPosition((20, 10), 80).aiming(0), np.eye(3))


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
        assert (np.linalg.norm(lands(lens, points, 0.4) - points, axis=1) <= bound).all()
