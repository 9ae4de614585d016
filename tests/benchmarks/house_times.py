"""Houses of up to thirty windows, whatever their cloth: how long order and plan are thought about.

Run: python -m tests.benchmarks.house_times [COUNT] [FIRST]

Each house is put through what the commands ``order`` and ``plan`` do: the plan on its pieces, the same on pieces a
little and much too short, and the advice that goes with each (processor time of this process). Prints every house that
takes longer than those before, then how many took longer than so many seconds.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from dataclasses import replace
from fractions import Fraction

from jobs.model.job import Job
from jobs.model.problems import JobRefused
from jobs.ordering import order
from jobs.planning.planner import plan_job
from jobs.planning.remedies import remedies, savings
from tests.jobs.packing.random_houses import random_job

SIZES = (8, 12, 20, 25, 30)
SHARES = (Fraction(1), Fraction(19, 20), Fraction(3, 5))
"""The pieces as they are, a twentieth too short, much too short."""
STEPS_S = (1, 2, 5, 10, 20)


def cut_down(made: Job, share: Fraction) -> Job:
    """The house with only this share of each piece."""
    pieces = []
    for piece in made.cloth.pieces:
        length = Fraction(int(piece.length * share))
        flaws = tuple(flaw for flaw in piece.flaws if flaw.end <= length)
        pieces.append(replace(piece, length=length, flaws=flaws))
    return replace(made, cloth=replace(made.cloth, pieces=tuple(pieces)))


def thought(made: Job) -> tuple[float, float, str]:
    """Seconds of ``order`` and of ``plan`` with their advice, and what came of the plan."""
    begun = time.process_time()
    order(made)
    savings(made)
    ordered = time.process_time()
    plan = plan_job(made)
    if plan.short:
        remedies(made, short=plan.short)
    said = f"short {float(plan.short):.0f} in" if plan.short else "proved" if plan.proved_shortest else "planned"
    return ordered - begun, time.process_time() - ordered, said


def main(count: int, first: int = 0) -> int:
    longest, over, done = 0.0, Counter[int](), 0
    for seed in range(first, first + count):
        whole = random_job(seed, most=30, sizes=SIZES)
        for share in SHARES:
            try:
                ordering, planning, said = thought(cut_down(whole, share))
            except JobRefused as refused:
                ordering, planning, said = 0.0, 0.0, f"refused: {refused.problems[0].code}"
            done += 1
            over.update(step for step in STEPS_S if max(ordering, planning) > step)
            if max(ordering, planning) > longest:
                longest = max(ordering, planning)
                pieces = len(whole.cloth.pieces)
                print(
                    f"house {seed}, {len(whole.windows)} windows, {pieces} pieces x {float(share):.2f}: "
                    f"order {ordering:.1f} s, plan {planning:.1f} s, {said}",
                    flush=True,
                )
    print(f"{done} houses; longer than", ", ".join(f"{step} s: {over[step]}" for step in STEPS_S))
    return over[20]


if __name__ == "__main__":
    sys.exit(1 if main(*map(int, sys.argv[1:] or ["100"])) else 0)
