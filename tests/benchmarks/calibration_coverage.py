"""How often the true error stays within what is predicted: at places, and over the whole lit area at once.

Run from the top of the repository: ``python -m tests.benchmarks.calibration_coverage [trials a cell [lenses]]``.
Marks are placed with a standard error of 1/32 in each way and pointed at with 1/4 px, the zero as all others. Under
lenses as projectors have them (k1 anywhere within 0.02 either way, the axis anywhere within 400 px of the middle), for
which the prior of the lens is meant, every cell should read 93 to 97 %, as far as its trials tell. Under a perfect lens
few marks must read more, for they cannot know that it is perfect; under the most bent ones, and under lenses drawn from
the prior itself, whose tails are longer, a little less.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from calibration.fitting import LensPrior
from calibration.lens import Lens
from calibration.problems import MarksRefused
from calibration.table import fit_table, frame_grid
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, Array, lit, marks_of, random_rig

FRAME = np.array([WIDTH_PX, HEIGHT_PX], dtype=float)
SPREAD = frame_grid(WIDTH_PX, HEIGHT_PX, 3, 3, 0.06)[[0, 2, 8, 6, 1, 7, 3, 5, 4]]
INSIDE = np.array([(0.3, 0.3), (0.7, 0.7), (0.3, 0.7)]) * FRAME
TOLERANCE_IN = 1 / 16

DrawLens = Callable[[np.random.Generator], Lens]


def lens_of(k1: float, axis_px: tuple[float, float] = (0.0, 0.0)) -> Lens:
    """A lens bent by ``k1`` about an axis so far from the middle of the frame."""
    return Lens(k1, 0.0, (WIDTH_PX / 2 + axis_px[0], HEIGHT_PX / 2 + axis_px[1]), float(WIDTH_PX))


def _either(rng: np.random.Generator) -> float:
    return float(rng.choice([-1.0, 1.0]))


def usual_lens(rng: np.random.Generator) -> Lens:
    """Lenses as projectors have them."""
    u, v = rng.uniform(-400, 400, 2).tolist()
    return lens_of(float(rng.uniform(-0.02, 0.02)), (u, v))


def documented_lens(rng: np.random.Generator) -> Lens:
    """Lenses exactly as the documents say the program expects them: every term normal, give or take what is said."""
    prior = LensPrior()
    k1, k2, u, v = rng.standard_normal(4).tolist()
    lens = lens_of(prior.k1 * k1, (prior.axis * WIDTH_PX * u, prior.axis * WIDTH_PX * v))
    return replace(lens, k2=prior.k2 * k2)


LENSES: dict[str, DrawLens] = {
    "as documented": documented_lens,
    "as projectors have them": usual_lens,
    "perfect": lambda rng: lens_of(0.0),
    "k1 +-0.005": lambda rng: lens_of(0.005 * _either(rng)),
    "k1 +-0.01, axis 400 px up": lambda rng: lens_of(0.01 * _either(rng), (0.0, -400.0)),
    "k1 +-0.02": lambda rng: lens_of(0.02 * _either(rng)),
    "k1 +-0.02, axis 400 px off": lambda rng: lens_of(0.02 * _either(rng), (400.0 * _either(rng), 0.0)),
}


def layout_px(rng: np.random.Generator, count: int, layout: str) -> Array:
    """Pixels (count, 2) of marks: spread over the frame, or crowded in a part of it at random ("unlucky")."""
    if layout == "regular":
        return np.vstack([SPREAD, INSIDE])[:count] + rng.uniform(-20, 20, (count, 2))
    size = rng.uniform(0.35, 0.6, 2)
    corner = rng.uniform(0.04, 0.96 - size)
    shares = np.vstack([[(0, 0), (1, 0), (1, 1), (0, 1)], rng.uniform(0, 1, (count - 4, 2))])
    return (corner + size * shares) * FRAME + rng.uniform(-20, 20, (count, 2))


def covered(
    rng: np.random.Generator, count: int, layout: str, draw: DrawLens
) -> tuple[float, bool, float, float, float]:
    """One calibration: share of places within prediction, whether all are at once, the figure for everywhere;
    of eight cut lines, the share that may be lit unbroken, and of those the share more than 1/16 in off."""
    while True:
        matrix, lens = random_rig(rng, mirrored=bool(rng.integers(2))), draw(rng)
        pixels = layout_px(rng, count, layout)
        placed = lit(matrix, lens.undo(pixels)) + rng.normal(0, 1 / 32, pixels.shape)
        try:
            marks = marks_of(placed, pixels + rng.normal(0, 0.25, pixels.shape))
            table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
        except MarksRefused:
            continue  # two marks drawn at one place
        break
    made = Uncertainty(table)

    def missed(wanted: Array) -> Array:
        return lit(matrix, lens.undo(table.to_frame(wanted))) - wanted

    places = lit(matrix, lens.undo(rng.uniform((0, 0), FRAME, (8, 2))))
    held = np.linalg.norm(missed(places), axis=1) <= made.error_in(places)
    everywhere = made.everywhere_in()
    all_held = bool(np.linalg.norm(missed(table.lit_points(33, 19)), axis=1).max() <= everywhere)
    whole, off = [], []
    for u in np.linspace(0.1, 0.9, 8) * WIDTH_PX:
        start, end = table.to_table([(u, 0.1 * HEIGHT_PX), (u, 0.9 * HEIGHT_PX)])
        whole.append(made.along_line(start, end).across_in <= TOLERANCE_IN)
        if whole[-1]:
            along = (end - start) / np.linalg.norm(end - start)
            points = start + (end - start) * np.linspace(0, 1, 17)[:, None]
            off.append(bool(np.abs(missed(points) @ (-along[1], along[0])).max() > TOLERANCE_IN))
    return float(held.mean()), all_held, everywhere, float(np.mean(whole)), float(np.sum(off)) / 8


def main() -> None:
    """Print coverage for each lens, layout and number of marks."""
    trials = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    print("in each cell: places held, all held at once, median figure for everywhere;")
    print("cut lines lit unbroken, and lit unbroken though more than 1/16 in off")
    only = sys.argv[2] if len(sys.argv) > 2 else ""
    for name, draw in ((name, draw) for name, draw in LENSES.items() if only in name):
        for layout in ("regular", "unlucky"):
            print(f"{name}, {layout}")
            for count in (4, 5, 6, 7, 9, 12):
                rng = np.random.default_rng(count)
                found = np.array([covered(rng, count, layout, draw) for _ in range(trials)], dtype=float)
                places, at_once, _, whole, off = found.mean(axis=0)
                print(
                    f"{count:4d} marks {places:7.1%} {at_once:7.1%} {np.median(found[:, 2]):7.3f} in"
                    f"   lines {whole:6.1%} {off:6.2%}",
                    flush=True,
                )


if __name__ == "__main__":
    main()
