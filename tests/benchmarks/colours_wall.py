"""A wall of 200 cloths in three rooms: how the chosen light shows against white light alone.

Run: python -m tests.benchmarks.colours_wall
"""

from __future__ import annotations

import time

import numpy as np

from tests.projector.light.cloths import MARGIN, ROOMS_LX, chosen_and_white, cloths

CLOTHS = 200


def main() -> None:
    begun = time.process_time()
    wall = list(cloths(CLOTHS))
    found = np.array([[chosen_and_white(cloth, room) for cloth in wall] for room in ROOMS_LX])
    print(f"{CLOTHS} cloths x {len(ROOMS_LX)} rooms, {time.process_time() - begun:.1f} s")
    print("smallest CIEDE2000 difference of the cut line, every kind of eye: mean (median)")
    for room, rows in zip(ROOMS_LX, found, strict=True):
        _line(f"room {room:g} lx", rows)
    colours = np.array([len(dict.fromkeys(cloth)) for cloth in wall])
    for count in np.unique(colours):
        _line(f"{count} colour{'s' if count > 1 else ''}", found[:, colours == count].reshape(-1, 3))
    every = found.reshape(-1, 3)
    _line("all", every)
    best, _, white = every.T
    ratio, gain = best.mean() / white.mean(), best - white
    print(
        f"margin over white alone: {ratio:.2f} x on average (stated: {MARGIN:g} x, "
        f"{'kept' if ratio >= MARGIN else 'NOT kept'}), least gain {gain.min():+.2f}, largest {gain.max():+.2f}, "
        f"never less: {'kept' if (gain >= 0).all() else 'NOT kept'}"
    )


def _line(name: str, rows: np.ndarray) -> None:
    said = "   ".join(
        f"{what} {mean:5.2f} ({median:5.2f})"
        for what, mean, median in zip(
            ("chosen", "chosen, unlit cloth", "white only"), rows.mean(axis=0), np.median(rows, axis=0), strict=True
        )
    )
    best, _, white = rows.T
    print(
        f"{name:<12} {said}   {best.mean() / white.mean():.2f} x; gain {np.mean(best - white):+.2f} on average, "
        f"least {np.min(best - white):+.2f}; better on {np.mean(best > white):.0%} (over 5 % better on "
        f"{np.mean(best > 1.05 * white):.0%}), equal on {np.mean(best == white):.0%}, "
        f"worse on {np.mean(best < white):.0%}"
    )


if __name__ == "__main__":
    main()
