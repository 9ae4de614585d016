"""What one photograph says of whether the light has moved since it was calibrated, on random rigs.

    python -m tests.benchmarks.calibration_moved [RIGS [LONG_PX [FIRST]]]

The rigs are those of ``calibration_photographs``, their tables bare. Each is photographed when it was calibrated, and
again from near there: as it was; with its projector knocked (its light moved by up to an inch, turned by up to a
degree); and not knocked, but under another room light. Printed of each: how far the light truly moved at most, what was
found, what at most it may be, and at what share of places the truth lay within what was said.
"""

from __future__ import annotations

import math
import sys
from dataclasses import replace

import cv2
import numpy as np

from calibration.photographs.detecting import judge
from calibration.photographs.settling import Settled, settled
from calibration.photographs.straightening import Seen
from calibration.problems import PhotographRefused
from calibration.table import Table
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, from_around, photograph
from projector.demo.virtual_projector import VirtualProjector
from projector.light.pattern import pattern_frame
from tests.benchmarks.calibration_photographs import PATTERN, TABLE_IN, rig

HELD = 0.95
"""What is said of a light is true where it is so at this share of its places."""


def seen(lit: VirtualProjector, camera: VirtualCamera, room: Taking) -> Seen:
    table = LitTable(lit, pattern_frame(PATTERN), None, TABLE_IN)
    picture = photograph(camera, table, replace(room, blur_px=1.2 * camera.width_px / 4032))
    grey = np.asarray(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY))
    return Seen(grey, judge(grey, PATTERN).sighting)


def knocked(lit: VirtualProjector, rng: np.random.Generator) -> VirtualProjector:
    far, way = rng.uniform(0.15, 1.0), rng.uniform(0, 2 * math.pi)
    aim = (lit.aim[0] + far * math.cos(way), lit.aim[1] + far * math.sin(way))
    return replace(lit, aim=aim, roll_deg=lit.roll_deg + rng.uniform(-1, 1))


def told(found: Settled, table: Table, lit: VirtualProjector) -> tuple[float, float, float, float]:
    """How far it truly moved, was found to have and may have at most, and where the truth was within what was said."""
    truly = lit.to_table(table.to_frame(found.places_in)) - found.places_in
    held = np.linalg.norm(found.shift_in - truly, axis=1) <= found.within_in
    return float(np.linalg.norm(truly, axis=1).max()), float(found.far_in.max()), found.most_in, float(held.mean())


def main(rigs: int, long_px: int, first: int) -> None:
    rows: dict[str, list[tuple[float, float, float, float]]] = {}
    words: dict[str, list[str]] = {}
    for seed in range(first, first + rigs):
        rng = np.random.default_rng([seed, 7])
        lit, like = rig(rng, long_px)
        table = Table(lit.width_px, lit.height_px, lit.matrix, (), lens=lit.lens)
        then_at = from_around(TABLE_IN, like, 5, rng)[int(rng.integers(5))]
        moved = rng.normal(0, 5, 3)
        now_at = replace(then_at, lens_at=tuple((np.array(then_at.lens_at) + moved).tolist()))
        room = Taking(towards_deg=rng.uniform(0, 360), seed=10 * seed)
        other = replace(room, ambient=rng.uniform(0.1, 0.5), towards_deg=rng.uniform(0, 360), seed=10 * seed + 3)
        tries = {
            "as it was": (lit, replace(room, seed=10 * seed + 1)),
            "knocked": (knocked(lit, rng), replace(room, seed=10 * seed + 2)),
            "another room light": (lit, other),
        }
        try:
            then = seen(lit, then_at, room)
        except PhotographRefused as why:
            print(f"rig {seed}: refused, {why}", flush=True)
            continue
        for name, (now, under) in tries.items():
            try:
                found = settled(table, then, seen(now, now_at, under))
            except PhotographRefused as why:
                print(f"rig {seed}, {name}: refused, {why}", flush=True)
                continue
            rows.setdefault(name, []).append(told(found, table, now))
            words.setdefault(name, []).append(
                "moved" if found.has_moved else "holds" if found.holds else "cannot tell it closer"
            )
            told_of = " ".join(f"{one:.3f}" for one in rows[name][-1])
            print(f"rig {seed}, {name}: {told_of} {words[name][-1]}", flush=True)
    for name, of in rows.items():
        truly, found_in, most, held = np.array(of).T
        counts = {word: words[name].count(word) for word in dict.fromkeys(words[name])}
        print(f"\n{name}: {counts}")
        print(f"  truly at most {truly.max():.3f} in, found at most {found_in.max():.3f} in")
        print(f"  may have moved at most: median {np.median(most):.3f} in, largest {most.max():.3f} in")
        print(
            f"  true at 95 of 100 places or more: {np.mean(held >= HELD):.0%}; on the whole {held.mean():.1%} of places"
        )
        print(f"  truly farther somewhere than that most: {np.mean(truly > most):.0%}")


if __name__ == "__main__":
    asked = [int(one) for one in sys.argv[1:]]
    main(*(asked + [20, 4032, 0][len(asked) :]))
