"""Prints whose every other motif is a little fainter, and as many that are not: python -m tests.benchmarks.photo_traps

The true repeat is then twice as large. Counted is whether it was taken, whether it was at least named as the second
answer, and false alarms on prints of equal motifs. Five small repeats or more are seen along, so the larger one twice.
"""

from __future__ import annotations

import sys
from collections import Counter

from jobs.prints.photographs.measuring import measure
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.problems import PhotoRefused
from tests.jobs.cutting.tilings import Tiling, settings
from tests.jobs.prints.photographs.pictures import Blots, photograph

SIZE, TALL = (420, 500), (900, 420)
FAINTER = ((0.3, 0.04), (0.15, 0.04), (0.08, 0.04), (0.0, 0.04), (0.0, 0.004))


def outcome(setting, kind, seed, other, noise):
    size = TALL if setting.lattice.along > 2 * setting.lattice.across else SIZE
    picture, per_inch = photograph(setting, seed, motif=kind, other=other, repeats=6.3, size=size, noise=noise)
    try:
        found = measure(Photo(picture, size[::-1]))
    except PhotoRefused as refused:
        print(f"{setting.name} {kind.__name__} {seed}: {refused}")
        return "refused"
    cells = found.lattice.along * found.lattice.across / per_inch**2 / setting.lattice.along / setting.lattice.across
    if abs(cells - (2 if other else 1)) < 0.03:
        return "right, the other answer named" if found.second else "right"
    return "named as second answer" if found.second else "wrong"


def main(seeds: int) -> None:
    for other, noise in FAINTER:
        seen: Counter = Counter()
        for setting in settings()[::2]:
            for kind in (Tiling, Blots):
                seen.update(outcome(setting, kind, 300 + seed, other, noise) for seed in range(seeds))
        total = sum(seen.values())
        print(
            f"every other motif {other:.0%} fainter, noise {noise}: "
            + ", ".join(f"{name} {count}/{total}" for name, count in sorted(seen.items()))
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1)
