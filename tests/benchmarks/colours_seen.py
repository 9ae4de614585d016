"""How bright and how different chosen lights are on every example and on 300 invented cloths in three rooms: the worst.

Run: python -m tests.benchmarks.colours_seen
"""

from __future__ import annotations

import time
from pathlib import Path

import numpy as np

from jobs.io.reader import read_job
from projector.light.appearance import Illumination
from projector.light.choosing import FLOOR, Choice, contrasts, ranked_choices, room_to_reach, share_of
from projector.light.styles import CANDIDATES, CUTS, LETTERS, name_of_colour
from tests.projector.light.cloths import ROOMS_LX, cloths

CLOTHS = 300
WORST = 8
EXAMPLES = Path(__file__).parents[2] / "jobs" / "examples"


def main() -> None:
    print(f"{'example':<16} {'cut lines':<14} contrast  letters  any mark  difference")
    for path in sorted(EXAMPLES.glob("*.yaml")):
        cloth = read_job(path).cloth
        _line(path.stem, ranked_choices(cloth.colour, cloth.motif_colours)[0])
    begun, wall = time.process_time(), list(cloths(CLOTHS))
    for room in ROOMS_LX:
        light = Illumination(room)
        found = [(cloth, ranked_choices(cloth[0], cloth[1:], light)[0]) for cloth in wall]
        _room(room, light, found)
    print(f"{time.process_time() - begun:.1f} s")


def _room(room: float, light: Illumination, found: list[tuple[tuple[str, ...], Choice]]) -> None:
    cut = np.array([one.contrast for _, one in found])
    every = np.array([one.least_contrast for _, one in found])
    best = np.array([_best(cloth, light, CUTS) for cloth, _ in found])
    letters = np.array([_best(cloth, light, LETTERS) for cloth, _ in found])
    lost = int(((cut < FLOOR) & (best >= FLOOR)).sum() + ((every < FLOOR) & (letters >= FLOOR)).sum())
    print(
        f"room {room:g} lx: cut lines reach {FLOOR:g} on {(cut >= FLOOR).sum()} of {len(cut)} cloths, any light on "
        f"{(best >= FLOOR).sum()}; every mark on {(every >= FLOOR).sum()}; below it though some light is not: {lost}"
    )
    print("  the worst:")
    for number in np.argsort(cut)[:WORST]:
        cloth, choice = found[number]
        needed = room_to_reach(cloth, light)
        _line("  " + " ".join(cloth), choice, 34, "" if needed is None else f"   {needed:.0f} lx would do")


def _best(cloth: tuple[str, ...], light: Illumination, group: str) -> float:
    return float(contrasts(cloth, CANDIDATES, light, share_of(group)).min(axis=1).max())


def _line(name: str, choice: Choice, wide: int = 16, more: str = "") -> None:
    cut, letters = choice.chosen[:2]
    print(
        f"{name:<{wide}} {name_of_colour(cut.colour):<14} {cut.contrast:8.2f} {letters.contrast:8.2f} "
        f"{choice.least_contrast:9.2f} {cut.shows:11.1f}{more}"
    )


if __name__ == "__main__":
    main()
