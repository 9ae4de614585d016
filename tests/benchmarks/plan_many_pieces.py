"""Plans over many pieces against a solver of constraints and against their own bound.

python -m tests.benchmarks.plan_many_pieces [seconds for the solver, 60 unless given]
"""

from __future__ import annotations

import math
import sys
import time

from jobs.packing.instance import Instance
from jobs.packing.solve import Solved, solve
from jobs.packing.watch import Watch
from tests.jobs.packing.instances import random_instance
from tests.jobs.packing.solver import solved_by_constraints

MEDIUM = [(1, 24, 3, 18, "mirrored"), (2, 40, 4, 25, "same"), (3, 60, 4, 12, "whole"), (4, 60, 4, 18, "mirrored")]
KINDS = ("whole", "same", "mirrored")
SIZES = (100, 300, 1000, 3000, 10000)


def main(seconds: float) -> None:
    """Print the tables; with 0 seconds the solver is left out."""
    if seconds:
        _medium(seconds)
    _large()


def _medium(seconds: float) -> None:
    print(f"medium: ours against CP-SAT given {seconds:.0f} s (below 1 is less cloth)")
    for seed, cuts, pieces, repeat, kind in MEDIUM:
        instance = random_instance(seed, cuts, pieces, repeat, kind, slack=1.2)
        found, took = timed(instance)
        peer, proved = solved_by_constraints(instance, seconds, workers=2)
        ratio = f"{found.layout.used / peer:.4f}" if peer else "the solver found none"
        what = f"{cuts} cuts, {pieces} pieces, {kind}"
        least = " (proved least)" if proved else ""
        print(f"  {what:32} ours {took:5.2f} s   used ratio {ratio}, short {found.layout.over}{least}")


def _large() -> None:
    print("a thousand cuts on forty pieces, six kinds of instance: share above the bound, seconds")
    for kind in KINDS:
        for level in (False, True):
            instance = random_instance(5, 1000, 40, 18, kind, level=level)
            found, took = timed(instance)
            rows = "rows level" if level else "rows anywhere"
            over = found.layout.used / found.bound - 1
            print(f"  {kind:10} {rows:14} {over:7.3%}   {took:6.2f} s   short {found.layout.over}", flush=True)
    print("large: share above the bound, seconds, growth against n log n of the size before")
    before = None
    for cuts in SIZES:
        instance = random_instance(5, cuts, max(4, cuts // 25), 18, "whole")
        found, took = timed(instance)
        over = found.layout.used / found.bound - 1
        grown = (
            f"{took / before[1] / (cuts * math.log(cuts) / (before[0] * math.log(before[0]))):.2f}" if before else "-"
        )
        print(f"  {cuts:6} cuts, {len(instance.rolls):4} pieces   {over:7.3%}   {took:6.2f} s   {grown}", flush=True)
        before = (cuts, took)


def timed(instance: Instance) -> tuple[Solved, float]:
    """The layout, and the processor time it took."""
    start = time.process_time()
    found = solve(instance, Watch())
    return found, time.process_time() - start


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 60.0)
