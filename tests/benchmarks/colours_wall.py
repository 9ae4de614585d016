"""A wall of 200 cloths in three rooms: how the chosen light shows against white light alone.

Run: python -m tests.benchmarks.colours_wall
"""

from __future__ import annotations

import time

import numpy as np

from tests.projector.light.cloths import ROOMS_LX, chosen_and_white, cloths

CLOTHS = 200


def main() -> None:
    begun = time.perf_counter()
    wall = list(cloths(CLOTHS))
    found = np.array([[chosen_and_white(cloth, room) for cloth in wall] for room in ROOMS_LX])
    print(f"{CLOTHS} cloths x {len(ROOMS_LX)} rooms, {time.perf_counter() - begun:.1f} s")
    print("smallest CIEDE2000 difference of the cut line, every kind of eye: mean (median)")
    for room, rows in zip(ROOMS_LX, found, strict=True):
        _line(f"room {room:g} lx", rows)
    _line("all", found.reshape(-1, 3))


def _line(name: str, rows: np.ndarray) -> None:
    said = "   ".join(
        f"{what} {mean:5.2f} ({median:5.2f})"
        for what, mean, median in zip(
            ("chosen", "chosen, unlit cloth", "white only"), rows.mean(axis=0), np.median(rows, axis=0), strict=True
        )
    )
    best, _, white = rows.T
    print(
        f"{name:<12} {said}   margin {np.mean(best - white):+.2f} on average, {best.mean() / white.mean():.2f} x; "
        f"better by over 5 % on {np.mean(best > 1.05 * white):.0%}, worse on {np.mean(best < white):.0%}"
    )


if __name__ == "__main__":
    main()
