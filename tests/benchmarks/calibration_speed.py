"""Fit and prediction for 12 marks and a 60 x 30 grid, beside OpenCV's fit of the same marks, in one run.

Run from the top of the repository: ``python -m tests.benchmarks.calibration_speed``. OpenCV fits and maps, but checks
no marks and predicts no error; the ratios show what that costs. The bar is 20 ms for fit and prediction together.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import cv2
import numpy as np

from calibration.fitting import PLAIN, USUAL, LensPrior
from calibration.lines import pieces_within
from calibration.table import Table, fit_table
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, lit, marks_of, random_rig

ROUNDS = 40


def median_ms(work: Callable[[], object]) -> float:
    """Median time of the work in milliseconds, after two rounds to warm up."""
    times = []
    for _ in range(ROUNDS + 2):
        start = time.perf_counter()
        work()
        times.append(1000 * (time.perf_counter() - start))
    return statistics.median(times[2:])


def main() -> None:
    """Print times and ratios."""
    rng = np.random.default_rng(1)
    matrix = random_rig(rng)
    pixels = np.array([(u, v) for v in (60.0, 540.0, 1020.0) for u in (80.0, 700.0, 1250.0, 1840.0)])
    placed = lit(matrix, pixels) + rng.normal(0, 1 / 32, pixels.shape)
    marks = marks_of(placed, pixels)
    grid = lit(matrix, np.array([(u, v) for v in np.linspace(20, 1060, 30) for u in np.linspace(20, 1900, 60)]))
    table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
    theirs, _ = cv2.findHomography(placed, pixels, 0)

    def fit(prior: LensPrior) -> Table:
        return fit_table(marks, WIDTH_PX, HEIGHT_PX, lens_prior=prior)

    rows = [
        ("fit of 12 marks, checks included", lambda: fit(PLAIN), lambda: cv2.findHomography(placed, pixels, 0)),
        ("the same with the lens", lambda: fit(USUAL), lambda: cv2.findHomography(placed, pixels, 0)),
        ("1800 places to pixels", lambda: table.to_frame(grid), lambda: cv2.perspectiveTransform(grid[None], theirs)),
    ]
    for name, ours, peer in rows:
        mine, other = median_ms(ours), median_ms(peer)
        print(f"{name:40s} {mine:8.3f} ms   OpenCV {other:8.3f} ms   ratio {mine / other:6.1f}")
    prediction = median_ms(lambda: Uncertainty(table).error_in(grid))
    whole = median_ms(lambda: Uncertainty(fit(USUAL)).error_in(grid))
    print(f"{'95 % error at 1800 places':40s} {prediction:8.3f} ms")
    print(f"{'fit and prediction together':40s} {whole:8.3f} ms   bar 20 ms: {'held' if whole < 20 else 'MISSED'}")
    starts, ends = grid[:60], grid[-60:]
    print(
        f"{'60 long lines cut up for a plain lens':40s} {median_ms(lambda: pieces_within(table, starts, ends)):8.3f} ms"
    )


if __name__ == "__main__":
    main()
