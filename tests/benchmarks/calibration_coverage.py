"""How often the true error stays under the predicted 95 % figure: many rigs and layouts, 4 to 12 marks.

Run from the top of the repository: ``python -m tests.benchmarks.calibration_coverage [rigs for each number of marks]``.
With a plain lens each row should read 93 to 97 %. A bent light that too few marks can show is not in the prediction: it
is stated beside it (``calibration.lens_doubt``), and the second half of the table shows why that must be.
Marks are placed with a standard error of 1/32 in and pointed at with 1/4 px.
"""

from __future__ import annotations

import sys

import numpy as np

from calibration.lens import Lens
from calibration.marks import MarksRefused
from calibration.table import fit_table
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_of, random_rig


def coverage(rng: np.random.Generator, count: int, rigs: int, k1: float) -> tuple[float, float]:
    """Share of places whose true error stays under the prediction, and share of fits that took a lens term."""
    held, bent = [], []
    while len(bent) < rigs:
        matrix, lens = random_rig(rng, mirrored=bool(rng.integers(2))), Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1)
        extra = rng.uniform((60, 60), (WIDTH_PX - 60, HEIGHT_PX - 60), (count - 4, 2))
        pixels = np.vstack([CORNERS + rng.uniform(-90, 90, (4, 2)), extra])
        placed = lit(matrix, lens.undo(pixels)) + rng.normal(0, 1 / 32, pixels.shape)
        try:
            table = fit_table(marks_of(placed, pixels + rng.normal(0, 0.25, pixels.shape)), WIDTH_PX, HEIGHT_PX)
        except MarksRefused:
            continue  # two marks drawn at one place
        wanted = lit(matrix, lens.undo(rng.uniform((0, 0), (WIDTH_PX, HEIGHT_PX), (6, 2))))
        missed = np.linalg.norm(lit(matrix, lens.undo(table.to_frame(wanted))) - wanted, axis=1)
        held.append(missed <= Uncertainty(table).error_in(wanted))
        bent.append(table.lens is not None)
    return float(np.mean(held)), float(np.mean(bent))


def main() -> None:
    """Print coverage for each number of marks."""
    rigs = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    rng = np.random.default_rng(7)
    print("marks   plain lens: held   lens term taken      k1 = -0.05: held   lens term taken")
    for count in range(4, 13):
        plain, bent = coverage(rng, count, rigs, 0.0), coverage(rng, count, rigs, -0.05)
        print(f"{count:5d} {plain[0]:18.1%} {plain[1]:17.1%} {bent[0]:21.1%} {bent[1]:17.1%}")


if __name__ == "__main__":
    main()
