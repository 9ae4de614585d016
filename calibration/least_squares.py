"""Damped least squares (Levenberg-Marquardt) for small dense problems."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Model = Callable[[Array], tuple[Array, Array]]
"""Parameters (P,) -> residuals (M,), derivatives of the residuals (M, P)."""


class NoConvergence(ArithmeticError):  # noqa: N818
    """The least squares fit found no place to settle."""


def minimise(model: Model, start: Array, *, steps: int = 100, tolerance: float = 1e-13) -> Array:
    """Parameters (P,) that make the sum of squared residuals least, starting from ``start`` (P,).

    Damping after Marquardt (1963), scaled by the diagonal; a step that raises ``ArithmeticError`` in the
    model counts as a worse one. Raises ``NoConvergence`` when ``steps`` do not suffice.
    """
    values = np.array(start, dtype=np.float64)
    residuals, slopes = model(values)
    cost = float(residuals @ residuals)
    damping = 1e-4
    for _ in range(steps):
        normal = slopes.T @ slopes
        gradient = slopes.T @ residuals
        scale = np.diag(normal) + 1e-300
        step = np.linalg.lstsq(normal + damping * np.diag(scale), -gradient, rcond=None)[0]
        small = bool(np.all(np.abs(step) <= tolerance * (1.0 + np.abs(values))))
        try:
            new_residuals, new_slopes = model(values + step)
            new_cost = float(new_residuals @ new_residuals)
        except ArithmeticError:
            new_cost = np.inf
        if new_cost <= cost:
            flat = cost - new_cost <= 1e-15 * cost
            values, residuals, slopes, cost = values + step, new_residuals, new_slopes, new_cost
            damping = max(damping / 10.0, 1e-15)
            if small or (flat and damping < 1e-6):
                return values
        elif small:
            return values
        else:
            damping = max(damping, 1e-10) * 10.0
    raise NoConvergence(f"no settled fit after {steps} steps")
