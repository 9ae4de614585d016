"""Prints of 3 to 8 repeats each way under uneven light, and what is said of them.

Run: python -m tests.benchmarks.photo_prints [COUNT] [FIRST]

Wrong is a repeat or a drop off by more than one part in a hundred; sure is what the program itself calls so.
"""

from __future__ import annotations

import sys
import time
from collections import Counter

from jobs.prints.photographs.measuring import measure
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.problems import PhotoRefused
from tests.jobs.prints.photographs.random_prints import KINDS, Truth, random_print

OUTCOMES = ("right", "right, second named", "second answer right", "refused", "wrong and unsure", "wrong and sure")
SURE = 0.8


def is_right(lattice, truth: Truth) -> bool:
    drop_off = abs((lattice.drop - truth.drop + 0.5) % 1 - 0.5)
    sizes = abs(lattice.along / truth.along - 1), abs(lattice.across / truth.across - 1)
    return max(sizes) < 0.01 and drop_off < 0.02


def outcome(truth: Truth) -> tuple[str, str]:
    """Which of the outcomes, and what was said."""
    try:
        found = measure(Photo(truth.picture, truth.picture.shape[1::-1]))
    except PhotoRefused as refused:
        return "refused", str(refused)
    lattice = found.lattice
    sizes = f"{lattice.along / truth.along:.3f} x {lattice.across / truth.across:.3f}"
    said = f"{sizes} drop {lattice.drop:.3f} of {truth.drop:.3f} at {found.confidence:.0%}"
    if is_right(lattice, truth):
        return ("right, second named" if found.second else "right"), said
    if found.second and is_right(found.second.lattice, truth):
        return "second answer right", said
    return ("wrong and sure" if found.confidence >= SURE else "wrong and unsure"), said


def main(count: int, first: int = 0) -> int:
    table: Counter = Counter()
    begun = time.process_time()
    for seed in range(first, first + count):
        truth = random_print(seed)
        which, said = outcome(truth)
        table[truth.kind, which] += 1
        if not which.startswith("right"):
            print(
                f"{seed} {truth.kind}, {truth.light}, {truth.repeats[0]:.1f} x {truth.repeats[1]:.1f}: {which}: {said}",
                flush=True,
            )
    print("".ljust(14), *(one.rjust(20) for one in OUTCOMES))
    for kind in KINDS:
        print(kind.ljust(14), *(str(table[kind, one]).rjust(20) for one in OUTCOMES))
    print("all".ljust(14), *(str(sum(table[kind, one] for kind in KINDS)).rjust(20) for one in OUTCOMES))
    print(f"{(time.process_time() - begun) / count:.2f} s of processor time each")
    return sum(table[kind, "wrong and sure"] for kind in KINDS)


if __name__ == "__main__":
    sys.exit(bool(main(*map(int, sys.argv[1:3] or (500,)))))
