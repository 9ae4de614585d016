"""Probabilities against SciPy and a long draw."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from calibration.quantiles import CENTRAL_95, radial_quantile, squares_tail


def test_a_needle_and_a_circle_have_their_known_quantiles() -> None:
    # One direction: the normal's 1.95996. Circle: length is Rayleigh, sqrt(-2 ln 0.05) = 2.44775.
    found = radial_quantile(np.array([np.diag([1.0, 0.0]), np.diag([1.0, 1.0])]))
    np.testing.assert_allclose(found, [CENTRAL_95, np.sqrt(-2 * np.log(0.05))], atol=1e-6)


@pytest.mark.parametrize("chance", [0.5, 0.95, 0.99])
def test_quantiles_of_slanted_ellipses_hold_for_drawn_errors(chance: float) -> None:
    rng = np.random.default_rng(1)
    covariance = np.array([[[2.0, 1.2], [1.2, 1.0]], [[0.3, -0.1], [-0.1, 4.0]], [[1.0, 0.9999], [0.9999, 1.0]]])
    for matrix, radius in zip(covariance, radial_quantile(covariance, chance), strict=True):
        drawn = rng.multivariate_normal((0, 0), matrix, 100_000)
        share = (np.linalg.norm(drawn, axis=1) <= radius).mean()
        assert share == pytest.approx(chance, abs=0.006)  # four standard errors of 100 000 draws


@pytest.mark.parametrize("freedom", [1, 2, 3, 8, 15, 16])
@pytest.mark.parametrize("value", [0.0, 0.3, 2.1, 7.3, 60.0])
def test_tails_agree_with_scipy(freedom: int, value: float) -> None:
    assert squares_tail(value, freedom) == pytest.approx(stats.chi2.sf(value, freedom), rel=1e-9, abs=1e-300)


def test_an_absurd_disagreement_has_no_chance() -> None:
    assert squares_tail(1e9, 3) == 0.0
