"""Nine marks and a bent light: how near the fitted light comes, and how often a bend shows.

Run from the top of the repository: ``python -m tests.benchmarks.calibration_lens [trials]``. "Read to 1/32" is a tape
read to the nearest 1/32 in (up to 1/64 off); "placed to 1/32" has a standard error of 1/32 in each way. OpenCV fits the
same marks with its camera calibration (square pixels, centre held, k1 alone), as the independent answer.
"""

from __future__ import annotations

import sys

import cv2
import numpy as np

from calibration.advice import lens_shows
from calibration.fitting import PLAIN, fit_marks
from calibration.homography import normalise
from calibration.lens import Lens
from calibration.marks import CAREFUL, Placing
from calibration.table import Table, fit_table, frame_grid
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, lit, marks_of, random_rig

NINE = frame_grid(WIDTH_PX, HEIGHT_PX, 3, 3, 0.05)
FRAME = frame_grid(WIDTH_PX, HEIGHT_PX, 25, 15, 0.001)


def trial(rng: np.random.Generator, k1: float, read: bool) -> tuple[bool, float, float, float]:
    """Whether a bend shows, and over the lit area: share within 1/32 in, largest error, largest plain error."""
    matrix, lens = random_rig(rng), Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1)
    true = lit(matrix, lens.undo(NINE))
    placed = np.round(true * 32) / 32 if read else true + rng.normal(0, 1 / 32, true.shape)
    marks = marks_of(placed, NINE)
    wanted = lit(matrix, lens.undo(FRAME))
    placing = Placing(1 / 32 / 12**0.5, 1 / 4 / 12**0.5) if read else CAREFUL
    without = normalise(fit_marks(marks, WIDTH_PX, HEIGHT_PX, placing, PLAIN).matrix)
    tables = [fit_table(marks, WIDTH_PX, HEIGHT_PX, placing=placing), Table(WIDTH_PX, HEIGHT_PX, without, marks)]
    keep = tables[0].contains(wanted)
    ours, plain = (
        np.linalg.norm(lit(matrix, lens.undo(t.to_frame(wanted[keep]))) - wanted[keep], axis=1) for t in tables
    )
    return lens_shows(Uncertainty(tables[0])), float((ours <= 1 / 32).mean()), float(ours.max()), float(plain.max())


def beside_opencv(rng: np.random.Generator, k1: float) -> tuple[float, float]:
    """k1 of the same nine exact marks by our fit and by OpenCV's calibration (in our focal scale)."""
    matrix, lens = random_rig(rng), Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1)
    places = lit(matrix, lens.undo(NINE))
    ours = fit_marks(marks_of(places, NINE), WIDTH_PX, HEIGHT_PX, Placing(1e-3, 0.01)).lens
    flat = np.column_stack([places, np.zeros(len(places))]).astype(np.float32)
    start = np.array([[1.5 * WIDTH_PX, 0, WIDTH_PX / 2], [0, 1.5 * WIDTH_PX, HEIGHT_PX / 2], [0, 0, 1.0]])
    flags = (
        cv2.CALIB_USE_INTRINSIC_GUESS
        | cv2.CALIB_FIX_PRINCIPAL_POINT
        | cv2.CALIB_FIX_ASPECT_RATIO
        | cv2.CALIB_ZERO_TANGENT_DIST
        | cv2.CALIB_FIX_K2
        | cv2.CALIB_FIX_K3
    )
    size = (WIDTH_PX, HEIGHT_PX)
    _, camera, terms, _, _ = cv2.calibrateCamera(
        [flat], [NINE.astype(np.float32)[:, None]], size, start, None, flags=flags
    )
    return ours.k1, float(terms.ravel()[0]) * (WIDTH_PX / camera[0, 0]) ** 2


def main() -> None:
    """Print both tables."""
    trials = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    rng = np.random.default_rng(3)
    for read, name in ((True, "read to 1/32"), (False, "placed to 1/32")):
        print(f"{name}:   k1   bend shows   places within 1/32   whole area within 1/32   95 % worst   plain worst")
        for k1 in (-0.05, -0.03, -0.01, 0.0, 0.01, 0.03, 0.05):
            found = [trial(rng, k1, read) for _ in range(trials)]
            taken, within, worst, plain = (np.array(column, dtype=float) for column in zip(*found, strict=True))
            print(
                f"{k1:19.2f} {taken.mean():11.1%} {within.mean():19.1%} {(worst <= 1 / 32).mean():23.1%}"
                f" {np.quantile(worst, 0.95):11.3f} {plain.mean():18.3f} in"
            )
    print("exact marks:   k1      ours    OpenCV (whose tilt, focal length and k1 are found together)")
    for k1 in (-0.05, 0.02, 0.05):
        ours, theirs = beside_opencv(rng, k1)
        print(f"{k1:18.3f} {ours:9.5f} {theirs:9.5f}")


if __name__ == "__main__":
    main()
