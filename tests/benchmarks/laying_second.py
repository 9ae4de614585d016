"""Faint prints laid by a photograph of the pattern alone, by codes on white, and by a second photograph in white light.

    python -m tests.benchmarks.laying_second [RIGS [LONG_PX [FIRST [CONTRAST]]]]

The rigs are those of ``laying_photographs``, of whose print only so much contrast is left (an eighth at first) in a
room that gives 8 % of the light; the second photograph is by hand, some 2 in and 1 1/2 degrees away. Told is how far
cut edges at both ends of the table miss the print at most, whole rows apart; then how often what is said of 95 in 100
holds.
"""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np

from calibration.laying.laying import Photo, laid_from_photograph
from calibration.problems import PhotographRefused
from tests.benchmarks.laying_photographs import edges_of, off
from tests.calibration.laying.rigs import Rig, rig

AMBIENT = 0.08


def missed(made: Rig, photo: Photo) -> tuple[float, float] | str:
    """How far off at most, inches, and the share of places within what is said of 95 in 100; or why not laid."""
    try:
        laid = laid_from_photograph(photo, made.table, made.planned())
    except PhotographRefused as why:
        return str(why)
    edges = edges_of(made)
    error = np.abs(off(made, laid.registration.fit, edges))
    places = [(edge, across) for edge in edges for across in np.linspace(0.5, made.lattice.width_in - 0.5, 55)]
    return float(error.max()), float((error.ravel() <= laid.registration.along_error_in(places)).mean())


def main(rigs: int, long_px: int, first: int, contrast: float) -> None:
    found: dict[str, list[tuple[float, float]]] = {}
    for seed in range(first, first + rigs):
        made = rig(seed, long_px, contrast=contrast, ambient=AMBIENT)
        whole = made.photo()
        photos = {"whole": whole, "on white": made.photo(on_white=True), "second": replace(whole, white=made.second())}
        for name, photo in photos.items():
            told = missed(made, photo)
            print(f"rig {seed} {name}: {told}", flush=True)
            if not isinstance(told, str):
                found.setdefault(name, []).append(told)
    for name, all_of in found.items():
        most, held = np.array(all_of).T
        within = int((most <= 1 / 16).sum())
        print(f"{name:>9}: laid {len(most)} of {rigs}, {within} within 1/16 in; median {np.median(most):.4f}, ", end="")
        print(f"largest {most.max():.4f}; said of 95 in 100, held in {100 * held.mean():.0f}")


if __name__ == "__main__":
    given = [float(one) for one in sys.argv[1:]]
    rigs_, long_, first_, contrast_ = given + [12.0, 1200.0, 0.0, 0.12][len(given) :]
    main(int(rigs_), int(long_), int(first_), contrast_)
