"""Damped least squares on problems with a known answer."""

from __future__ import annotations

import numpy as np
import pytest

from calibration.least_squares import NoConvergence, minimise

Array = np.ndarray


def valley(values: Array) -> tuple[Array, Array]:
    """H. Rosenbrock's curved valley (The Computer Journal 3, 1960): least at (1, 1)."""
    x, y = values
    return np.array([10 * (y - x**2), 1 - x]), np.array([[-20 * x, 10], [-1, 0]])


def test_the_bottom_of_a_curved_valley_is_found() -> None:
    np.testing.assert_allclose(minimise(valley, np.array([-1.2, 1.0])), [1, 1], atol=1e-9)


def test_a_line_is_fitted_as_by_the_normal_equations() -> None:
    x, y = np.arange(5.0), np.array([1.0, 2.9, 5.2, 7.1, 8.8])
    rows = np.column_stack([x, np.ones(5)])
    found = minimise(lambda values: (rows @ values - y, rows), np.zeros(2))
    np.testing.assert_allclose(found, np.linalg.lstsq(rows, y, rcond=None)[0], atol=1e-9)


def test_a_step_the_model_refuses_is_shortened() -> None:
    def guarded(values: Array) -> tuple[Array, Array]:
        if values[0] <= 0:
            raise ArithmeticError
        return np.array([np.log(values[0]) - 1]), np.array([[1 / values[0]]])

    np.testing.assert_allclose(minimise(guarded, np.array([20.0])), [np.e], atol=1e-9)


def test_too_few_steps_are_told_and_not_passed_off_as_an_answer() -> None:
    with pytest.raises(NoConvergence, match="2 steps"):
        minimise(valley, np.array([-1.2, 1.0]), steps=2)
