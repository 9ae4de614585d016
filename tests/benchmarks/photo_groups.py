"""Confusion table of symmetry over all plane groups: python -m tests.benchmarks.photo_groups [SEEDS]"""

from __future__ import annotations

import sys
import time
from collections import Counter

import numpy as np

from jobs.prints.photographs.measuring import measure
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.problems import PhotoRefused
from tests.jobs.cutting.tilings import Tiling, settings
from tests.jobs.prints.photographs.pictures import Blots, photograph


def said(down, side, half):
    return f"{str(down)[0]}{str(side)[0]}{'2' if half else '-'}"


def main(seeds: int) -> None:
    table: Counter = Counter()
    right = all_of = 0
    off, times, lost = [], [], 0
    for setting in settings():
        for kind in (Tiling, Blots):
            for seed in range(seeds):
                picture, per_inch = photograph(setting, 100 + seed, motif=kind)
                all_of += 1
                begun = time.perf_counter()
                try:
                    found = measure(Photo(picture, picture.shape[1::-1]))
                except PhotoRefused as refused:
                    lost += 1
                    print(f"{setting.name} {kind.__name__} {seed}: {refused}")
                    continue
                times.append(time.perf_counter() - begun)
                lattice, seen = found.lattice, found.symmetry
                errors = [
                    lattice.along / per_inch / setting.lattice.along - 1,
                    lattice.across / per_inch / setting.lattice.across - 1,
                ]
                truth = said(setting.top_to_bottom, setting.side_to_side, setting.half_turn)
                answer = said(seen.top_to_bottom, seen.side_to_side, seen.half_turn)
                drop_off = abs((lattice.drop - setting.lattice.drop + 0.5) % 1 - 0.5)
                table[truth, answer] += 1
                worst = max(map(abs, errors))
                off.append(worst)
                good = worst < 0.002 and drop_off < 0.01 and truth == answer
                right += good
                if not good:
                    matches = [round(m.differs, 3) if m else None for m in (seen.down, seen.side, seen.turn)]
                    print(
                        f"{setting.name} drop {setting.lattice.drop:.2f} {kind.__name__} {seed}: {answer} "
                        f"along {errors[0]:+.3%} across {errors[1]:+.3%} drop {lattice.drop:.3f} {matches}"
                    )
    names = sorted({name for pair in table for name in pair})
    print("truth \\ found".ljust(14), *names)
    for truth in names:
        print(truth.ljust(14), *(str(table[truth, answer] or ".").rjust(3) for answer in names))
    print(
        f"right {right} of {all_of} ({right / all_of:.1%}), refused {lost}; repeat off: median {np.median(off):.4%}, "
        f"95 of 100 {np.quantile(off, 0.95):.4%}; {np.median(times):.2f} s each"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
